/** The smaller decisions of the wall: times, sizes, the ear, the forms of what is wanted. */
import { describe, expect, test } from 'vitest';
import { asId, fault } from '../../src/domain';
import type { Stamp } from '../../src/domain';
import type { ExpectedEnd } from '../../src/review';
import type { PhaseView, ReadBackView, SizeRow, WantedView } from '../../src/session';
import { handOf } from '../../src/ui/wall/clock-hand';
import { chooseStep, listSteps } from '../../src/ui/wall/fit-text';
import { differsFromPlan } from '../../src/ui/wall/read-back-plan';
import { earToText, heardToText, marksOf } from '../../src/ui/wall/wall-ear';
import { layoutSizes, signOf } from '../../src/ui/wall/wall-sizes';
import {
  caseTimeOf,
  durationToText,
  endRangeToText,
  endToText,
  phaseTimeOf,
} from '../../src/ui/wall/wall-times';
import { formOf, labelWithUnit } from '../../src/ui/wall/wanted-form';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const MINUTE = 60_000;
const stamp = (mono: number): Stamp => ({ at: 1_000_000 + mono, mono, run: asId('run-1') });

describe('times', () => {
  test.each([
    [0, '0:00'],
    [59_999, '0:59'],
    [245_000, '4:05'],
    [4_065_000, '1:07:45'],
    [-5, '0:00'],
  ])('[WAL9] %i ms is written %s', (ms, text) => {
    expect(durationToText(ms)).toBe(text);
  });

  test('[WAL9] the case time has its hours, so that it is no time of day', async () => {
    const { session, say, clock } = await openSampleCase();
    await say('+819');
    const now = { at: clock.wallMs(), mono: clock.monoMs(), run: asId<never>('run-1') };
    expect(caseTimeOf(session.view, now)).toBe('0:13:39');
  });

  const phase: PhaseView = {
    id: asId('reaming'),
    title: 'Reaming',
    isQuiet: false,
    since: stamp(0),
    usualMs: 6 * MINUTE,
  };

  test('[WAL9] the tick of the usual time moves only when the phase is far over', () => {
    expect(phaseTimeOf(phase, stamp(3 * MINUTE))).toMatchObject({
      isOver: false,
      usual: 'usual 6 min',
    });
    expect(phaseTimeOf(phase, stamp(3 * MINUTE)).fill).toBeCloseTo(1 / 3);
    expect(phaseTimeOf(phase, stamp(3 * MINUTE)).tick).toBeCloseTo(2 / 3);
    const late = phaseTimeOf(phase, stamp(12 * MINUTE));
    expect(late).toMatchObject({ isOver: true, fill: 1, tick: 0.5 });
  });

  test('[WAL9] without a usual time there is no tick', () => {
    expect(phaseTimeOf({ ...phase, usualMs: null }, stamp(MINUTE))).toMatchObject({
      usual: '',
      tick: null,
    });
  });

  test('[WAL10] the expected end is shown in steps of five minutes, its range widened to them', () => {
    const at = (hour: number, minute: number) => new Date(2026, 2, 4, hour, minute).getTime();
    const end: ExpectedEnd = {
      endAt: at(14, 37),
      lowAt: at(14, 28),
      highAt: at(14, 51),
      basis: { caseCount: 0, hasUsual: true },
    };
    const at1430 = { ...stamp(0), at: at(14, 30) };
    expect(endToText(end, at1430)).toBe('14:35');
    // A time that has passed is no time to be done at.
    expect(endToText(end, { ...at1430, at: at(14, 36) })).toBe('14:40');
    expect(endRangeToText(end)).toBe('14:25–14:55');
  });
});

describe('sizes', () => {
  const row = (label: string, state: SizeRow['parts'][number]['state'], text = ''): SizeRow => ({
    label,
    parts: [{ capture: asId(label), text, unit: 'mm', state, differsFromPlan: false }],
    isAsked: false,
  });

  test('[WAL18] settled is the value, wanted a question mark, ahead a dash', () => {
    const signs = [
      row('a', 'settled', '24'),
      row('b', 'offered', '28'),
      row('c', 'wanted'),
      row('d', 'ahead'),
    ];
    expect(signs.flatMap(({ parts }) => parts.map(signOf))).toEqual(['24', '28', '?', '–']);
  });

  test('[WAL18] the sizes of the flagship fit on one screen at every moment', async () => {
    const { session, say } = await openSampleCase();
    for (const words of WHOLE_CASE) {
      await say(words);
      expect(layoutSizes(session.view.sizes, 600)).toMatchObject({ before: 0, after: 0 });
    }
  });

  test('[WAL18] where they do not fit, the window holds what is wanted and counts the rest', () => {
    const rows = Array.from({ length: 30 }, (_, index) =>
      row(`n${index}`, index < 20 ? 'settled' : index === 20 ? 'wanted' : 'ahead', '24'),
    );
    const { lines, before, after } = layoutSizes(rows, 600);
    expect(lines.map(({ label }) => label)).toContain('n20');
    expect(before + lines.length + after).toBe(30);
    expect(before).toBeGreaterThan(0);
    expect(after).toBeGreaterThan(0);
  });

  test('[WAL18] a long group shows its last parts and how many came before', () => {
    const parts = Array.from({ length: 8 }, (_, index) => ({
      capture: asId<never>(`s${index}`),
      text: '30',
      unit: 'mm',
      state: 'settled' as const,
      differsFromPlan: false,
    }));
    const [line] = layoutSizes([{ label: 'Screws', parts, isAsked: false }], 600).lines;
    expect(line).toMatchObject({ isGroup: true, isTall: true, hiddenBefore: 3 });
    expect(line?.parts).toHaveLength(5);
  });
});

describe('the ear', () => {
  const ear = {
    state: 'listening',
    fault: null,
    levelDb: null,
    reading: null,
    isGated: false,
    isShut: false,
  } as const;

  test('[WAL19] says whether it hears, and the address phrase', () => {
    expect(earToText(ear, 'theatre wall').status).toBe('Listens for “theatre wall …”');
    expect(earToText({ ...ear, state: 'hearing' }, '').sign).toBe('hearing');
    expect(earToText({ ...ear, isGated: true }, '').sign).toBe('speaking');
    expect(earToText({ ...ear, state: 'starting' }, '').sign).toBe('starting');
    expect(earToText({ ...ear, state: 'off' }, '').sign).toBe('deaf');
  });

  test('[VOI45] says that a key opens it, and when it is open', () => {
    expect(earToText({ ...ear, isShut: true }, '').status).toBe('Press the pedal or key to speak');
    expect(earToText(ear, '').status).toBe('Listens now');
  });

  test('[WAL19] gives the operator text where it can not hear', () => {
    const lost = earToText({ ...ear, state: 'lost', fault: fault('microphone-lost') }, '');
    expect(lost).toMatchObject({ sign: 'deaf', status: 'Can’t hear. The microphone went away' });
    expect(lost.next).toMatch(/keyboard and desk/);
  });

  test('[WAL20] repeats what was heard once, with what came of it', () => {
    const last = { seq: 1, at: stamp(0), words: 'taper checked' };
    expect(heardToText({ ...last, outcome: 'done', message: null })).toEqual({
      words: 'taper checked',
      outcome: 'done',
      message: '',
    });
    const message = { happened: '“taper checked” does nothing at this moment', next: '' };
    expect(heardToText({ ...last, outcome: 'refused', message })?.words).toBe('');
    expect(heardToText(null)).toBeNull();
  });

  test('[WAL21] unsaved entries, no disk, mute and a quiet phase leave a mark while they last', async () => {
    const { view } = (await openSampleCase()).session;
    expect(marksOf(view, null).map(({ text }) => text)).toEqual(['Quiet phase']);
    const muted = { ...view, isMuted: true, unsavedCount: 3 };
    expect(marksOf(muted, null).map(({ text }) => text)).toEqual(['Not saved: 3', 'Voice muted']);
    expect(marksOf(null, fault('record-unavailable')).map(({ text }) => text)).toEqual([
      'Record not on disk',
    ]);
  });
});

describe('what is wanted', () => {
  const wanted = (kind: WantedView['kind'], texts: readonly string[]) =>
    ({
      kind,
      label: 'Depth',
      unit: 'mm',
      options: texts.map((text) => ({ text })),
    }) as unknown as WantedView;

  test('[WAL22] up to nine numbers are listed, more are a range, a direction is drawn', () => {
    const numbers = ['14', '18', '22', '26', '30', '34', '38', '42', '46'];
    expect(formOf(wanted('number', numbers))).toBe('listed');
    expect(formOf(wanted('number', [...numbers, '50']))).toBe('range');
    expect(formOf(wanted('clock', numbers))).toBe('none');
    expect(formOf(wanted('report', ['Done']))).toBe('none');
  });

  test('[WAL22] long words are set tighter', () => {
    expect(formOf(wanted('choice', ['Locking', 'Non-locking']))).toBe('listed');
    expect(formOf(wanted('choice', ['Hemispherical', 'Non-locking', 'Polyaxial']))).toBe('tight');
    expect(labelWithUnit(wanted('number', []))).toBe('Depth, mm');
  });

  test('[WAL23] a read-back says when it is not what was planned', () => {
    const readBack = (text: string, unit: string, planned: string | null) =>
      differsFromPlan({ text, unit, planned } as ReadBackView);
    expect(readBack('24', 'mm', '24 mm')).toBe(false);
    expect(readBack('28', 'mm', '24 mm')).toBe(true);
    expect(readBack('16', '°', '16°')).toBe(false);
    expect(readBack('10:30', '', '10:30')).toBe(false);
    expect(readBack('28', 'mm', null)).toBe(false);
  });

  test('[WAL23] a planned direction is drawn on the face', () => {
    expect(handOf('10:30')).toBe(630);
    expect(handOf('12:00')).toBe(0);
    expect(handOf('Even')).toBeNull();
  });

  test('[WAL2] the largest size that fits is taken, the smallest where none does', () => {
    const steps = listSteps({ 40: 3, 96: 1, 78: 2 });
    expect(steps.map(([size]) => size)).toEqual([96, 78, 40]);
    expect(chooseStep(steps, ([size]) => size < 90)).toEqual([78, 2]);
    expect(chooseStep(steps, () => false)).toEqual([40, 3]);
  });
});
