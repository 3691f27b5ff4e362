/** Many cases: filters, sums, ranks, the room; each against figures worked out by hand. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { Entry, Fact } from '../../src/domain';
import type { CaseDigest } from '../../src/review';
import { CaseTable, digestCase, filterCases, listChoices, lookBack } from '../../src/review';
import type { CaseFilter } from '../../src/review';
import { digestSpeech } from '../../src/review/digest/digest-speech';
import { measureRoom } from '../../src/review/many/room';
import { makeSeries } from '../../src/review/many/series';
import { summariseCases } from '../../src/review/many/summary';
import { summariseTimes } from '../../src/review/many/times';
import { HandCase, OUTLINE } from './hand-case';
import { digestOf } from './synthetic-team';

const ALL: CaseFilter = {
  mode: 'demo', procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null,
}; // prettier-ignore
const made = (place: number, changes: Partial<CaseDigest> = {}): CaseDigest => ({
  ...digestOf([{ id: 'only', passesMin: [60] }], place),
  ...changes,
});

/** All of the cases in a table of their own, in the order given. */
const allOf = (digests: readonly CaseDigest[]) => [CaseTable.of(digests), digests.map((_, row) => row)] as const; // prettier-ignore
const summarise = (digests: readonly CaseDigest[]) => ({ ...summariseCases(...allOf(digests)), ...summariseTimes(...allOf(digests)) }); // prettier-ignore
const series = (digests: readonly CaseDigest[], key: string | null, withLoops = true) => makeSeries(...allOf(digests), key, withLoops); // prettier-ignore
const roomUse = (digests: readonly CaseDigest[], offsetMin: number) => measureRoom(...allOf(digests), offsetMin); // prettier-ignore

function readFrozen(name: string): readonly Entry[] {
  const url = new URL(`../record/fixtures/${name}.json`, import.meta.url);
  return (JSON.parse(readFileSync(url, 'utf8')) as { entries: Entry[] }).entries;
}

describe('filters', () => {
  const cases = [
    made(3, { side: 'left', roles: ['surgeon A'] }),
    made(1, { side: 'right', roles: ['surgeon B'], hasVoiceCards: true }),
    made(2, { side: 'right', alternatives: ['stem: short'], procedureId: 'other' as never }),
    made(4, { mode: 'real' }),
    made(5, { closedAt: null }),
  ];
  const table = CaseTable.of(cases);
  const placesOf = (change: Partial<CaseFilter>) =>
    filterCases(table, { ...ALL, ...change }).map((row) =>
      table.caseIds[row]?.replace('made-', ''),
    );

  test('[REV40] real and demo cases are never mixed, open ones are left out, the oldest comes first', () => {
    expect(placesOf({})).toEqual(['1', '2', '3']);
    expect(placesOf({ mode: 'real' })).toEqual(['4']);
  });

  test('[REV40] procedure, side, role, period, alternative and voice cards', () => {
    expect(placesOf({ procedureId: 'other' })).toEqual(['2']);
    expect(placesOf({ side: 'right' })).toEqual(['1', '2']);
    expect(placesOf({ role: 'surgeon A' })).toEqual(['3']);
    expect(placesOf({ from: 2 * 86_400_000 })).toEqual(['2', '3']);
    expect(placesOf({ to: 2 * 86_400_000 })).toEqual(['1']);
    expect(placesOf({ alternative: 'stem: short' })).toEqual(['2']);
    expect(placesOf({ cards: 'with' })).toEqual(['1']);
    expect(placesOf({ cards: 'without' })).toEqual(['2', '3']);
  });

  test('[REV40] a case counts as one with voice cards where its frozen record says so', () => {
    const frozen = (name: string) => digestCase(readFrozen(name), OUTLINE)?.hasVoiceCards;
    expect(frozen('voice-cards-v2')).toBe(true);
    expect(frozen('record-v2')).toBe(false);
  });

  test('[REV40] the choices are those that there are', () => {
    expect(listChoices(table)).toMatchObject({
      modes: ['real', 'demo'],
      roles: ['surgeon A', 'surgeon B'],
      alternatives: ['stem: short'],
    });
  });
});

describe('sums', () => {
  const handCase = (minutes: number, repeat = false) => {
    const hand = new HandCase().begin('cut').pass(minutes).finish('cut');
    if (repeat) {
      hand.begin('shape').pass(1).finish('shape').begin('try').finish('try');
      hand.add({
        type: 'loop.repeated',
        data: { loop: 'l' as never, from: 'try' as never, to: 'shape' as never },
      });
      hand.begin('shape').pass(2).finish('shape');
    }
    hand.add({ type: 'clock.held', data: { reason: 'imaging' } }).pass(3);
    hand.add({ type: 'clock.resumed', data: {} });
    const digest = digestCase(hand.close().entries, OUTLINE);
    if (!digest) throw new Error('The case was opened');
    return digest;
  };

  test('[REV41] count, median, quartiles, range and spread of a phase; repeats; holds ranked', () => {
    const summary = summarise([handCase(4), handCase(8), handCase(6, true)]);
    const [opening, reaming] = summary.phases;
    expect(opening?.minutes).toMatchObject({
      count: 3,
      median: 6,
      lowerQuartile: 4,
      upperQuartile: 8,
      least: 4,
      most: 8,
      spread: 4,
    });
    expect(opening?.usualMin).toBe(6);
    expect(reaming).toMatchObject({ loops: 1 });
    expect(summary.loopsPerCase).toMatchObject({ mean: 1 / 3, most: 1 });
    expect(summary.holds).toEqual([{ reason: 'imaging', count: 3, minutes: 9 }]);
  });

  test('[REV41] what did not count is told beside what did', () => {
    const cut = new HandCase().begin('cut').pass(2).close();
    const digest = digestCase(cut.entries, OUTLINE);
    if (!digest) throw new Error('The case was opened');
    const [opening] = summarise([handCase(5), digest]).phases;
    expect(opening).toMatchObject({ notCounted: 1, minutes: { count: 1, median: 5 } });
  });

  test('[REV41] a series has the case numbers of all cases and leaves out what is no measure', () => {
    const cases = [handCase(4), made(2, { outcome: 'abandoned' }), handCase(8)];
    expect(series(cases, null).map(({ number }) => number)).toEqual([1, 3]);
    expect(series(cases, 'field/open').map(({ minutes }) => minutes)).toEqual([4, 8]);
    const looped = [handCase(6, true)];
    expect(series(looped, 'field/ream').map(({ minutes }) => minutes)).toEqual([3]);
    expect(series(looped, 'field/ream', false).map(({ minutes }) => minutes)).toEqual([1]);
  });

  test('[REV41] hold points are named as the team calls them, one that the procedure lacks by its id', () => {
    const hand = new HandCase().begin('cut');
    const refuse = (holdPoint: string) =>
      hand.add({
        type: 'order.refused',
        data: { order: null, code: 'hold-point-closed', params: {}, holdPoint: holdPoint as never, conditions: [] }, // prettier-ignore
      });
    refuse('gate');
    refuse('gate');
    refuse('gone');
    const digest = digestCase(hand.close().entries, OUTLINE);
    if (!digest) throw new Error('The case was opened');
    expect(summarise([digest]).refusedAt.map(({ reason, count }) => [reason, count])).toEqual([
      ['The gate', 2],
      ['gone', 1],
    ]);
  });

  test('[REV42] right at first is by person and phrase, the least reliable first', () => {
    const hand = new HandCase();
    const hear = (words: string | null) =>
      hand.add(
        {
          type: 'phrase.heard',
          data: { words, score: 1, listener: 'l', speechMs: 1, decisionMs: 1 },
        },
        'voice',
      );
    const offer = (value: number) =>
      hand.add({ type: 'capture.offered', data: { capture: 'depth' as never, value } }, 'voice');
    hear('depth two four');
    offer(24);
    hear('wrong');
    hand.add(
      { type: 'capture.withdrawn', data: { capture: 'depth' as never, value: 24 } },
      'voice',
    );
    hear('depth two eight');
    offer(28);
    hear('confirm');
    hand.add(
      { type: 'capture.confirmed', data: { capture: 'depth' as never, value: 28 } },
      'voice',
    );
    hear(null);
    const digest = digestCase(hand.close().entries, OUTLINE);
    if (!digest) throw new Error('The case was opened');
    const { speech, readBacks } = summarise([digest]);
    expect(speech.map(({ phrase, attempts, first }) => [phrase, attempts, first])).toEqual([
      ['not understood', 1, 0],
      ['Depth of the hole', 2, 1],
      ['confirm', 1, 1],
    ]);
    expect(readBacks).toEqual({ offered: 2, confirmed: 1, corrected: 1, lapsed: 0 });
    expect(digest.hasVoiceCards).toBe(false);
  });
});

describe('one procedure at a time', () => {
  const HOUR_MIN = 60;
  /** Two operations whose phases bear one name: a long one done twice, a short one done three times. */
  const of = (place: number, procedureId: string, minutes: number) =>
    ({ ...digestOf([{ id: 'only', passesMin: [minutes] }], place), procedureId: procedureId as never, procedure: `Operation ${procedureId}` }); // prettier-ignore
  const cases = [
    of(1, 'long', 3 * HOUR_MIN), of(2, 'short', 50), of(3, 'short', 60), of(4, 'long', 3 * HOUR_MIN), of(5, 'short', 70),
  ]; // prettier-ignore
  const ask = (timesOf: string | null, change: Partial<CaseFilter> = {}, key: string | null = null) =>
    lookBack(CaseTable.of(cases), { filter: { ...ALL, ...change }, timesOf, key, offsetMin: 0 }); // prettier-ignore

  test('[REV90] of several procedures the most frequent gives the times, and says so; the other can be asked for', () => {
    const answer = ask(null);
    expect(answer.summary.caseCount).toBe(5);
    expect(answer.procedures.map(({ title, caseCount }) => [title, caseCount])).toEqual([
      ['Operation short', 3],
      ['Operation long', 2],
    ]);
    expect(answer.timesOf?.id).toBe('short');
    expect(answer.times.totalMinutes).toMatchObject({ count: 3, median: 60, most: 70 });
    expect(answer.times.phases.map(({ minutes }) => minutes?.median)).toEqual([60]);
    expect(ask('long').times.phases.map(({ minutes }) => minutes?.most)).toEqual([180]);
  });

  test('[REV90] charts of change and the case numbers of the learning curve are of that procedure alone', () => {
    const points = (answer: ReturnType<typeof ask>) =>
      answer.change.learning.points.map(({ number, minutes }) => [number, minutes]);
    expect(points(ask(null))).toEqual([[1, 50], [2, 60], [3, 70]]); // prettier-ignore
    expect(points(ask('long', {}, 'field/only'))).toEqual([[1, 180], [2, 180]]); // prettier-ignore
  });

  test('[REV90] what was asked for and is not among the cases gives way: a procedure, and a phase it lacks', () => {
    expect(ask('long', { procedureId: 'short' }).timesOf?.id).toBe('short');
    expect(ask('gone').timesOf?.id).toBe('short');
    expect(ask(null, {}, 'field/elsewhere').key).toBeNull();
    expect(ask(null, { mode: 'real' })).toMatchObject({ timesOf: null, procedures: [] });
  });

  test('[REV90] a whole case that is no measure is left out of the median as it is of the charts', () => {
    const table = CaseTable.of([...cases, { ...of(6, 'short', 1), outcome: 'abandoned' }]);
    const { times } = lookBack(table, { filter: ALL, timesOf: null, key: null, offsetMin: 0 }); // prettier-ignore
    expect(times).toMatchObject({ caseCount: 4, totalMinutes: { count: 3, median: 60 } });
  });
});

test('[REV42] who spoke is the one whose voice card counted just then; of several all are named', () => {
  const heard: Fact = {
    type: 'phrase.heard',
    data: { words: 'next', score: 1, listener: 'l', speechMs: 1, decisionMs: 1 },
  };
  const card = (label: string) => ({ role: label, card: label, label, version: 1, language: 'en-GB' }); // prettier-ignore
  const personOf = (...labels: string[]) =>
    digestSpeech(
      new HandCase(undefined, { voiceCards: labels.map(card) })
        .add(heard, 'voice')
        .add({ type: 'clock.resumed', data: {} }).entries,
      OUTLINE,
    )[0]?.person;
  expect(personOf()).toBe('unknown');
  expect(personOf('surgeon A')).toBe('surgeon A');
  expect(personOf('surgeon A', 'scrub B')).toBe('surgeon A or scrub B');
});

test('[REV42] [REV40] a role handed over is counted for the newcomer from then on, until it is taken back', () => {
  // The frozen case: scrub B, then scrub C; surgeon A goes and comes back.
  const digest = digestCase(readFrozen('hand-over-v2'), OUTLINE);
  expect(digest?.hasVoiceCards).toBe(true);
  expect(digest?.speech.map(({ person, attempts }) => [person, attempts])).toEqual([
    ['surgeon A or scrub B', 1],
    ['surgeon A or scrub C', 2],
    ['scrub C', 1],
  ]);
  // A case that only a newcomer brought a card into counts as one with; one from before cards were part of a hand-over stays as it was opened.
  const voiceCard = { card: 'c', label: 'scrub C', version: 1, language: 'en-GB' };
  const handedOver = (data: object) =>
    new HandCase().add({ type: 'role.handedOver', data: { role: asId('scrub'), label: 'scrub C', ...data } }).entries; // prettier-ignore
  expect(digestCase(handedOver({ voiceCard }), OUTLINE)?.hasVoiceCards).toBe(true);
  expect(digestCase(handedOver({ voiceCard: null }), OUTLINE)?.hasVoiceCards).toBe(false);
  expect(digestCase(handedOver({}), OUTLINE)?.hasVoiceCards).toBe(false);
});

describe('the room', () => {
  const at = (hour: number, minute = 0, day = 5) => Date.UTC(2026, 0, day, hour, minute);
  const stay = (place: number, from: number, to: number, isMarked = true) =>
    made(place, { openedAt: from, closedAt: to, named: isMarked ? { PIR: from, POR: to } : {} });

  test('[REV43] utilisation is the share of the day with a patient in the room, turnover from out to in', () => {
    const use = roomUse(
      [stay(1, at(8), at(10)), stay(2, at(10, 30), at(12, 30)), stay(3, at(8, 0, 6), at(12, 0, 6))],
      0,
    );
    expect(use).toMatchObject({ days: 2, rawUtilization: 0.5, unmarked: 0 });
    expect(use.turnover).toMatchObject({ count: 1, median: 30 });
  });

  test('[REV43] a pause is no turnover, a missing mark is told, and the day is the local one', () => {
    const late = [stay(1, at(21), at(22)), stay(2, at(23, 45), at(24, 30), false)];
    expect(roomUse(late, 0)).toMatchObject({ turnover: null, unmarked: 1 });
    expect(roomUse(late, 0).days).toBe(1);
    expect(roomUse([stay(1, at(22), at(23)), stay(2, at(23, 30), at(24))], 60).days).toBe(2);
    expect(roomUse([], 0)).toMatchObject({ days: 0, rawUtilization: null });
  });
});
