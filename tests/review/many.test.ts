/** Many cases: filters, sums, ranks, the room; each against figures worked out by hand. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { Entry, Fact } from '../../src/domain';
import type { CaseDigest } from '../../src/review';
import {
  CaseTable, digestCase, digestsToJson, filterCases, listChoices, lookBack, lookBeside,
} from '../../src/review'; // prettier-ignore
import type { CaseFilter } from '../../src/review';
import { digestSpeech } from '../../src/review/digest/digest-speech';
import { summariseIntervals } from '../../src/review/many/intervals';
import { measureRooms } from '../../src/review/many/room';
import { USUAL_HOURS } from '../../src/review/many/room-hours';
import { makeSeries } from '../../src/review/many/series';
import { summariseCases } from '../../src/review/many/summary';
import { summariseTimes } from '../../src/review/many/times';
import { HandCase, OUTLINE } from './hand-case';
import { digestOf } from './synthetic-team';
import { readReviewFile } from '../support/review-file';

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
const roomUse = (digests: readonly CaseDigest[], offsetMin: number, hours = USUAL_HOURS) => measureRooms(...allOf(digests), () => offsetMin, hours); // prettier-ignore

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
    lookBack(CaseTable.of(cases), { filter: { ...ALL, ...change }, timesOf, key, hours: { fromMin: 480, hours: 8 } }); // prettier-ignore

  test('[REV90] of several procedures the most frequent gives the times, and says so; the other can be asked for', () => {
    const answer = ask(null);
    expect(answer.caseCount).toBe(5);
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
    const { times } = lookBack(table, { filter: ALL, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } }); // prettier-ignore
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

// The definitions: glossary of procedural times of the Association of Anesthesia Clinical Directors, read second-hand
// (raw utilization: percentage of resource hours with a patient in the room; turnover: prior patient out to next
// patient in). The figures follow from them by hand.
describe('the rooms', () => {
  const at = (hour: number, minute = 0, day = 5) => Date.UTC(2026, 0, day, hour, minute);
  const stay = (place: number, from: number, to: number, changes: Partial<CaseDigest> = {}) =>
    made(place, { openedAt: from, closedAt: to, named: { PIR: from, POR: to }, ...changes });

  test('[REV43] utilisation is the share of the resource hours with a patient in the room, turnover from out to in', () => {
    const use = roomUse(
      [stay(1, at(8), at(10)), stay(2, at(10, 30), at(12, 30)), stay(3, at(8, 0, 6), at(12, 0, 6))],
      0,
    );
    expect(use.all).toMatchObject({ days: 2, rawUtilization: 0.5, overrunMin: 0 });
    expect(use.all.turnover).toMatchObject({ count: 1, median: 30 });
    expect(use.unmarked).toBe(0);
  });

  test('[REV43] a pause is no turnover and is counted, a missing mark is told, and the day is the local one', () => {
    const late = [stay(1, at(21), at(22)), stay(2, at(23, 45), at(24, 30), { named: {} })];
    const use = roomUse(late, 0);
    expect(use).toMatchObject({ unmarked: 1, all: { turnover: null, pauses: 1, days: 1 } });
    const overMidnight = [stay(1, at(22), at(23)), stay(2, at(23, 30), at(24))];
    expect(roomUse(overMidnight, 0).all).toMatchObject({ days: 1, pauses: 0 });
    expect(roomUse(overMidnight, 60).all.days).toBe(2);
    expect(roomUse([], 0)).toMatchObject({ rooms: [], all: { days: 0, rawUtilization: null } });
  });

  test('[REV43] rooms are told apart by the theatre, each with its own hours and turnovers', () => {
    const use = roomUse(
      [
        stay(1, at(8), at(12), { theatre: 'Theatre 2' }),
        stay(2, at(8), at(10), { theatre: 'Theatre 1' }),
        stay(3, at(10, 20), at(12, 20), { theatre: 'Theatre 1' }),
        stay(4, at(12, 30), at(13), { theatre: null }),
      ],
      0,
    );
    expect(use.rooms.map(({ theatre, caseCount, turnover }) => [theatre, caseCount, turnover?.median ?? null])).toEqual([
      ['', 1, null], ['Theatre 1', 2, 20], ['Theatre 2', 1, null],
    ]); // prettier-ignore
    // 4, 4 and 0.5 of three times eight hours.
    expect(use.all.rawUtilization).toBeCloseTo(8.5 / 24, 12);
    expect(use.all.days).toBe(3);
  });

  test('[REV43] a minute outside the resource hours is overrun and makes up for no other day', () => {
    // 12 hours on one day, 4 on the next: 8 and 4 of 16.
    const days = [stay(1, at(8), at(20)), stay(2, at(8, 0, 6), at(12, 0, 6))];
    expect(roomUse(days, 0).all).toMatchObject({ rawUtilization: 0.75, overrunMin: 240 });
    // Ten hours from 7: 7 to 17.
    const longer = { fromMin: 420, hours: 10 };
    expect(roomUse(days, 0, longer).all).toMatchObject({
      rawUtilization: 13 / 20,
      overrunMin: 180,
    });
    // Hours over midnight belong to the day on which they begin: 22 to 2 of 20 to 4.
    const night = { fromMin: 1200, hours: 8 };
    const all = roomUse([stay(1, at(22), at(26))], 0, night).all;
    expect(all).toMatchObject({ days: 1, rawUtilization: 0.5, overrunMin: 0 });
    // A case that begins and ends after midnight lies in the hours of the day before: 1 to 3 of 20 to 4.
    const small = roomUse([stay(1, at(1, 0, 6), at(3, 0, 6))], 0, night).all;
    expect(small).toMatchObject({ days: 1, rawUtilization: 0.25, overrunMin: 0 });
    // With another one that evening, in the next night's hours, two days are counted: 4 of 16 hours.
    const both = roomUse([stay(1, at(1, 0, 6), at(3, 0, 6)), stay(2, at(21, 0, 6), at(23, 0, 6))], 0, night).all; // prettier-ignore
    expect(both).toMatchObject({ days: 2, rawUtilization: 0.25, overrunMin: 0 });
    // With one that very night before midnight it is one day: 5 of 8 hours, the last beyond them.
    const one = roomUse([stay(1, at(21), at(23)), stay(2, at(1, 0, 6), at(5, 0, 6))], 0, night).all; // prettier-ignore
    expect(one).toMatchObject({ days: 1, rawUtilization: 5 / 8, overrunMin: 60 });
  });

  test('[REV43] of cases over each other each minute counts once and it is told; impossible stays are left out and counted', () => {
    const use = roomUse(
      [
        stay(1, at(8), at(12)),
        stay(2, at(9), at(10)),
        stay(3, at(11), at(13)),
        stay(4, at(14), at(13, 30)),
        stay(5, at(8), at(8, 1, 6)),
      ],
      0,
    );
    expect(use.all).toMatchObject({ rawUtilization: 5 / 8, overlaps: 2, turnover: null });
    expect(use.unusable).toBe(2);
  });

  test('[REV43] the day keeps its local hours when clocks change', () => {
    // Central Europe goes from +60 to +120 minutes on 29 March 2026 (EU Directive 2000/84/EC: last Sunday in March).
    const change = Date.UTC(2026, 2, 29, 1);
    const winter = Date.UTC(2026, 2, 27, 7);
    const summer = Date.UTC(2026, 2, 30, 6);
    const hour = 3_600_000;
    const cases = [stay(1, winter, winter + 8 * hour), stay(2, summer, summer + 8 * hour)];
    const use = measureRooms(...allOf(cases), (moment) => (moment < change ? 60 : 120));
    expect(use.all).toMatchObject({ days: 2, rawUtilization: 1, overrunMin: 0 });
  });

  test('[REV43] whoever came between two cases ends a turnover, whatever is asked for', () => {
    const cases = [
      stay(1, at(8), at(9), { side: 'left' }),
      stay(2, at(9, 20), at(10), { side: 'right', procedureId: asId('other') }),
      stay(3, at(10, 15), at(11), { side: 'left' }),
    ];
    const question = { timesOf: null, key: null, hours: USUAL_HOURS };
    const left = lookBeside(CaseTable.of(cases), { ...question, filter: { ...ALL, side: 'left' } }, () => 0); // prettier-ignore
    expect(left.timesOf?.caseCount).toBe(2);
    expect(left.room.all.turnover).toMatchObject({ count: 2, least: 15, most: 20 });
    const first = lookBeside(CaseTable.of(cases), { ...question, filter: { ...ALL, to: at(10) } }, () => 0); // prettier-ignore
    expect(first.room.all.turnover).toMatchObject({ count: 1, median: 20 });
  });
});

// The names of the times: the same glossary, from memory. Figures by hand.
test('[REV94] intervals between named times are summed up; what was not marked, or the wrong way round, is counted', () => {
  const min = (minutes: number) => 1_800_000_000_000 + minutes * 60_000;
  const named = (PST: number, PF: number) => ({ PIR: min(0), PST: min(PST), PF: min(PF), POR: min(PF + 10) }); // prettier-ignore
  const cases = [
    made(1, { named: named(30, 90) }),
    made(2, { named: named(40, 120) }),
    made(3, { named: named(50, 150) }),
    made(4, { named: { PIR: min(0), PST: min(-5) } }),
    made(5, { named: named(600, 900), outcome: 'abandoned' }),
  ];
  const rows = summariseIntervals(...allOf(cases));
  const of = (from: string, to: string) => rows.find((row) => row.from === from && row.to === to);
  expect(of('PIR', 'PST')).toMatchObject({ minutes: { count: 3, median: 40, least: 30, most: 50 }, unmarked: 0, reversed: 1 }); // prettier-ignore
  expect(of('PST', 'PF')).toMatchObject({ minutes: { count: 3, median: 80 }, unmarked: 1, reversed: 0 }); // prettier-ignore
  expect(of('PF', 'POR')).toMatchObject({ name: 'Procedure finish to patient out of room', minutes: { count: 3, median: 10 } }); // prettier-ignore
  expect(of('AS', 'AR')).toMatchObject({ minutes: null, unmarked: 4 });
});

test('[REV43] the theatre goes from the set-up into the outline of a case, into the file and back', () => {
  const hand = new HandCase().entries;
  const [opening, ...rest] = hand;
  if (opening?.type !== 'case.opened') throw new Error('no opening');
  const inTheatre = [{ ...opening, data: { ...opening.data, theatre: 'Theatre 3' } }, ...rest];
  const digest = digestCase(inTheatre, OUTLINE);
  expect(digest?.theatre).toBe('Theatre 3');
  expect(digestCase(hand, OUTLINE)?.theatre).toBeNull();
  const read = readReviewFile(digestsToJson(digest ? [digest] : []));
  expect(read.ok && read.value[0]?.theatre).toBe('Theatre 3');
  // A file of an earlier program has no such field.
  const older = made(1);
  expect(older).not.toHaveProperty('theatre');
  expect(readReviewFile(digestsToJson([{ ...older, version: 7 }])).ok).toBe(true);
});
