/** What the page of one case says beside its times: usual ranges, what cost time, what was heard wrong. */
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { TrackId } from '../../src/domain';
import {
  compareToUsual,
  digestCase,
  findUsualRanges,
  listCosts,
  listMisheard,
} from '../../src/review';
import type { CaseDigest } from '../../src/review';
import { HandCase } from './hand-case';
import { openSampleCase } from '../support/sample-case';
import { digestOf } from './synthetic-team';

const MINUTE = 60_000;
const FIELD = asId<TrackId>('field');
const phasesOf = (minutes: number, place: number): CaseDigest =>
  digestOf([{ id: 'ream', passesMin: [minutes] }], place);

describe('the team’s own usual', () => {
  test('[REV51] four of five cases lie between the 10th and the 90th percentile by definition R6', () => {
    // The twelve values of the NIST handbook 7.2.6.2, whose 90th percentile is printed there as 95.1981.
    const printed = [95.1772, 95.1567, 95.1937, 95.1959, 95.1442, 95.061, 95.1591, 95.1195, 95.1065, 95.0925, 95.199, 95.1682]; // prettier-ignore
    const range = findUsualRanges(printed.map(phasesOf)).get('field/ream');
    expect((range?.highMs ?? 0) / MINUTE).toBeCloseTo(95.1981, 4);
    // R6 of the same values at 10 %, computed with Hyndman and Fan's formula: p(N + 1) = 1.3.
    expect((range?.lowMs ?? 0) / MINUTE).toBeCloseTo(95.061 + 0.3 * (95.0925 - 95.061), 4);
    expect(range?.count).toBe(12);
    expect(compareToUsual(95.3 * MINUTE, range)).toBe('longer');
    expect(compareToUsual(95.0 * MINUTE, range)).toBe('shorter');
    expect(compareToUsual(95.15 * MINUTE, range)).toBeNull();
  });

  test('[REV51] says nothing of a range below nine cases, and leaves out what is no measure', () => {
    const few = findUsualRanges([8, 9, 10].map(phasesOf)).get('field/ream');
    expect(few).toMatchObject({ count: 3, lowMs: null, highMs: null });
    expect(compareToUsual(99 * MINUTE, few)).toBeNull();
    const [first] = [10].map(phasesOf);
    if (!first) throw new Error('One case was made');
    const cut = { ...first, phases: first.phases.map((phase) => ({ ...phase, isWhole: false })) };
    expect(findUsualRanges([cut, { ...first, outcome: 'abandoned' }]).size).toBe(0);
  });
});

describe('what cost time', () => {
  test('[REV52] no minute counts twice: held clock, what was done again, and the rest above usual', () => {
    const made = digestOf([{ id: 'ream', passesMin: [12, 5, 2] }, { id: 'close', passesMin: [9] }], 1); // prettier-ignore
    const phases = made.phases.map((phase) => ({
      ...phase,
      heldMs: phase.phase === ('ream' as never) ? 3 * MINUTE : 0,
      usualMs: 6 * MINUTE,
    }));
    const holds = [
      { reason: 'imaging', ms: 2 * MINUTE },
      { reason: 'imaging', ms: 1 * MINUTE },
      { reason: 'short', ms: 1000 },
    ];
    // 19 minutes in all: 3 held, 7 again, 6 usual, so 3 above it; the closing takes 3 above its 6.
    expect(listCosts({ phases, holds }, new Map(), FIELD)).toEqual([
      { kind: 'again', text: 'ream', count: 2, ms: 7 * MINUTE, isBeside: false },
      { kind: 'held', text: 'imaging', count: 2, ms: 3 * MINUTE, isBeside: false },
      { kind: 'longer', text: 'ream', count: 1, ms: 3 * MINUTE, isBeside: false },
      { kind: 'longer', text: 'close', count: 1, ms: 3 * MINUTE, isBeside: false },
    ]);
    const own = findUsualRanges([8.5].map(phasesOf));
    expect(
      listCosts({ phases, holds: [] }, own, FIELD).map(({ text, ms }) => [text, ms / MINUTE]),
    ).toEqual([
      ['ream', 7],
      ['close', 3],
    ]);
  });
});

test('[REV52] what the back table took stands apart from the minutes of the field, which it ran beside', () => {
  // Both phases take ten minutes more than their usual six, side by side: the case ten, not twenty.
  const { phases } = digestOf([{ id: 'ream', passesMin: [16] }, { id: 'build', passesMin: [16] }], 1); // prettier-ignore
  const [ream, build] = phases.map((phase) => ({ ...phase, usualMs: 6 * MINUTE }));
  if (!ream || !build) throw new Error('Two phases were made');
  const both = [{ ...build, track: asId<TrackId>('table'), totalMs: 17 * MINUTE }, ream];
  const costs = listCosts({ phases: both, holds: [] }, new Map(), FIELD);
  expect(costs.map(({ text, ms, isBeside }) => [text, ms / MINUTE, isBeside])).toEqual([
    ['ream', 10, false],
    ['build', 11, true],
  ]);
});

describe('what was heard wrong', () => {
  const offer = (hand: HandCase, value: number, source: 'voice' | 'desk' = 'voice') => {
    if (source === 'voice')
      hand.add(
        {
          type: 'phrase.heard',
          data: {
            words: `depth ${value}`,
            score: 1,
            listener: 'grammar',
            speechMs: 700,
            decisionMs: 90,
          },
        },
        'voice',
      );
    return hand.add(
      { type: 'capture.offered', data: { capture: 'depth' as never, value } },
      source,
    );
  };
  const answer = (hand: HandCase, type: 'capture.confirmed' | 'capture.withdrawn' | 'capture.lapsed', value: number) =>
    hand.add({ type, data: { capture: 'depth' as never, value } }); // prettier-ignore
  const tell = (hand: HandCase) =>
    listMisheard(hand.entries).map(({ words, end, settled }) => [
      words,
      end,
      settled?.value ?? null,
    ]);

  test('[REV53] corrected, taken back and lapsed, each with what was confirmed in the end', () => {
    const hand = new HandCase();
    offer(hand, 30);
    offer(hand, 13);
    answer(hand, 'capture.withdrawn', 13);
    offer(hand, 40);
    answer(hand, 'capture.lapsed', 40);
    offer(hand, 14);
    answer(hand, 'capture.confirmed', 14);
    expect(tell(hand)).toEqual([
      ['depth 30', 'corrected', 14],
      ['depth 13', 'taken back', 14],
      ['depth 40', 'lapsed', 14],
    ]);
  });

  test('[REV53] a spoken order that was taken back is among it, and counts as not right at first', async () => {
    const { session, say } = await openSampleCase();
    await say('+240', 'step done', '+2', 'repeat', '+1', 'undo last order', '+60', 'step done');
    const lines = () => listMisheard(session.entries).map(({ words, end, next }) => [words, end, next]); // prettier-ignore
    expect(lines()).toEqual([['step done', 'undone', 'step done']]);
    const scores = () =>
      Object.fromEntries(
        digestCase(session.entries, session.view.outline)?.speech.map(
          ({ phrase, attempts, first }) => [phrase, [first, attempts]],
        ) ?? [],
      );
    expect(scores()).toMatchObject({ 'step done': [1, 2], 'undo last order': [1, 1] });
    await say('+60', 'step done', '+60', 'pin placed', '+3', 'confirm');
    await say('+40', 'wedge one six', '+3', 'confirm', '+5');
    await session.submit({ type: 'order.undo' }, 'desk');
    await say('+5', null, '+5', 'wedge two four', '+3', 'confirm');
    const settled = listMisheard(session.entries).slice(1);
    expect(settled.map(({ words, end, offered, settled: to, next }) => [words, end, offered?.value, to?.value, next])).toEqual([
      ['wedge one six', 'undone', 16, 24, null],
      [null, 'not understood', undefined, undefined, 'wedge two four'],
    ]); // prettier-ignore
    expect(scores()).toMatchObject({ Wedge: [1, 2], confirm: [2, 3], 'not understood': [0, 1] });
  });

  test('[REV53] what was right, and what was typed, is not among it; what nobody settled says so', () => {
    const hand = new HandCase();
    offer(hand, 14);
    answer(hand, 'capture.confirmed', 14);
    offer(hand, 20, 'desk');
    answer(hand, 'capture.withdrawn', 20);
    expect(tell(hand)).toEqual([]);
    offer(hand, 16);
    answer(hand, 'capture.withdrawn', 16);
    hand.add(
      { type: 'order.refused', data: { order: null, code: 'phrase-not-understood', params: {}, holdPoint: null, conditions: [] } },
      'voice',
    ); // prettier-ignore
    expect(tell(hand)).toEqual([
      ['depth 16', 'taken back', null],
      [null, 'not understood', null],
    ]);
  });
});
