/** Overrides, refusals, sizes and named times as folds over entries. */
import { describe, expect, test } from 'vitest';
import { asId, listMilestones } from '../../src/domain';
import type { Milestone } from '../../src/domain';
import {
  foldSizes,
  listIntervals,
  listNamedTimes,
  listOverrides,
  listRefusals,
} from '../../src/review';
import { HandCase } from './hand-case';

const MIN = 60_000;
const gate = { holdPoint: asId<never>('gate') };

describe('overrides', () => {
  test('[REV11] keep reason, what was missing when they were passed, and both times', () => {
    const hand = new HandCase();
    hand.add({
      type: 'override.requested',
      data: { ...gate, reason: 'Gauge dropped', missing: ['A', 'B'], excused: [0, 1] },
    });
    hand.pass(1).add({ type: 'override.granted', data: { ...gate, missing: ['B'], excused: [1] } });
    hand.add({
      type: 'override.requested',
      data: { ...gate, reason: 'Once more', missing: ['B'], excused: [1] },
    });
    hand.add({ type: 'override.withdrawn', data: gate });
    hand.add({
      type: 'override.requested',
      data: { ...gate, reason: 'And again', missing: ['B'], excused: [1] },
    });
    const rows = listOverrides(hand.entries);
    expect(rows).toMatchObject([
      { reason: 'Gauge dropped', missing: ['B'], outcome: 'granted' },
      { reason: 'Once more', outcome: 'withdrawn' },
      { reason: 'And again', outcome: 'unanswered', answeredAt: null },
    ]);
    expect((rows[0]?.answeredAt?.at ?? 0) - (rows[0]?.askedAt.at ?? 0)).toBe(MIN);
  });
});

describe('refusals', () => {
  test('[REV12] carry the words that were heard just before, and the text of the catalogue', () => {
    const heard = { score: 1, listener: 'test', speechMs: 1, decisionMs: 1 };
    const refused = { order: null, holdPoint: null, conditions: [] };
    const hand = new HandCase();
    hand.add({ type: 'phrase.heard', data: { words: 'step done', ...heard } }, 'voice');
    hand.add(
      {
        type: 'order.refused',
        data: { code: 'no-step-active', params: { track: 'Field' }, ...refused },
      },
      'voice',
    );
    hand.add({ type: 'order.refused', data: { code: 'no-read-back', params: {}, ...refused } }, 'desk'); // prettier-ignore
    expect(listRefusals(hand.entries)).toMatchObject([
      { words: 'step done', source: 'voice', text: { happened: 'No step is running on Field' } },
      { words: null, source: 'desk', text: { happened: 'Nothing is waiting to be confirmed' } },
    ]);
  });
});

describe('sizes', () => {
  test('[REV13] tell how each came about; only a confirmed value counts', () => {
    const depth = (value: number) => ({ capture: asId<never>('depth'), value });
    const hand = new HandCase();
    hand.add({ type: 'capture.offered', data: depth(16) }, 'voice');
    expect(foldSizes(hand.entries)).toMatchObject([{ value: null, offers: 1, confirmed: 0 }]);
    hand.add({ type: 'capture.offered', data: depth(24) }, 'voice');
    hand.add({ type: 'capture.lapsed', data: depth(24) }, 'wall');
    hand
      .add({ type: 'capture.offered', data: depth(20) })
      .add({ type: 'capture.withdrawn', data: depth(20) });
    hand
      .add({ type: 'capture.offered', data: depth(24) })
      .add({ type: 'capture.confirmed', data: depth(24) }, 'pedal');
    expect(foldSizes(hand.entries)).toMatchObject([
      { value: 24, offers: 4, corrected: 2, lapsed: 1, confirmed: 1, source: 'pedal' },
    ]);
    hand.add({ type: 'capture.offered', data: depth(28) }).add({ type: 'capture.confirmed', data: depth(28) }); // prettier-ignore
    expect(foldSizes(hand.entries)).toMatchObject([{ value: 28, confirmed: 2 }]);
  });
});

describe('named times', () => {
  // Names and abbreviations: Association of Anesthesia Clinical Directors, glossary of
  // procedural times (Donham et al. 1996). Partly read second-hand, the rest from memory;
  // the original was not opened.
  test('[REV14] follow the published glossary, in its order', () => {
    expect(listMilestones()).toEqual([
      { code: 'PIR', name: 'Patient in room' },
      { code: 'AS', name: 'Anaesthesia start' },
      { code: 'AR', name: 'Anaesthesia ready' },
      { code: 'PS', name: 'Position/prep start' },
      { code: 'PC', name: 'Prep complete' },
      { code: 'PST', name: 'Procedure start' },
      { code: 'PCB', name: 'Conclusion begun' },
      { code: 'PF', name: 'Procedure finish' },
      { code: 'POR', name: 'Patient out of room' },
    ]);
  });

  test('[REV15] the last mark of a name counts, and intervals need both ends', () => {
    const hand = new HandCase();
    const mark = (milestone: Milestone) =>
      hand.add({ type: 'milestone.reached', data: { milestone } });
    mark('PIR').pass(30);
    mark('PST').pass(5);
    mark('PST').pass(60);
    mark('PF');
    expect(listNamedTimes(hand.entries)).toMatchObject([
      { code: 'PIR', times: 1 },
      { code: 'PST', times: 2 },
      { code: 'PF', times: 1 },
    ]);
    expect(listIntervals(hand.entries).map(({ from, to, ms }) => [from, to, ms])).toEqual([
      ['PIR', 'PST', 35 * MIN],
      ['PST', 'PF', 60 * MIN],
    ]);
  });

  test('[REV15] marks in the other order give no interval, and a restart between is an estimate', () => {
    const hand = new HandCase();
    hand.add({ type: 'milestone.reached', data: { milestone: 'PF' } }).pass(1);
    hand.add({ type: 'milestone.reached', data: { milestone: 'PST' } });
    hand
      .restart()
      .pass(1)
      .add({ type: 'milestone.reached', data: { milestone: 'PCB' } });
    hand.add({ type: 'milestone.reached', data: { milestone: 'POR' } });
    expect(listIntervals(hand.entries)).toMatchObject([
      { from: 'PST', to: 'PF', ms: null },
      { from: 'PCB', to: 'PF', ms: null },
      { from: 'PF', to: 'POR', ms: 2 * MIN, isEstimated: true },
    ]);
  });
});
