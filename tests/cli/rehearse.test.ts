/**
 * The whole path on real sound: committed recordings (flite's voices) through the real
 * voice activity and the real listener into a real session. Nothing is faked but time.
 */
import { describe, expect, it } from 'vitest';
import { rehearse, rehearsePlan } from '../../src/cli/rehearse';
import type { Entry } from '../../src/domain';
import { REHEARSAL_PLANS } from '../../src/session';
import { canSpeak } from './can-speak';
import flagship from '../../src/procedure/library/reverse-shoulder-glenoid.json';

const LONG_MS = 180_000;

/** What a spoken case must show of the baseplate: refused without its conditions, let in with them. */
function checkBaseplate(entries: readonly Entry[]): readonly string[] {
  const indexOf = (test: (entry: Entry) => boolean) => entries.findIndex(test);
  const refused = indexOf(
    (entry) => entry.type === 'order.refused' && entry.data.holdPoint === 'baseplate',
  );
  const depth = indexOf(
    (entry) => entry.type === 'capture.confirmed' && entry.data.capture === 'depth',
  );
  const pinOut = indexOf(
    (entry) => entry.type === 'capture.confirmed' && entry.data.capture === 'pin-out',
  );
  const begun = indexOf(
    (entry) => entry.type === 'step.begun' && entry.data.step === 'insert-baseplate',
  );
  return [
    ...(refused === -1 ? ['the spoken attempt was not refused at the hold point'] : []),
    ...(begun === -1 ? ['the baseplate never went in'] : []),
    ...(begun < depth || depth === -1 ? ['the baseplate went in without a confirmed depth'] : []),
    ...(begun < pinOut || pinOut === -1 ? ['the baseplate went in before the pin was out'] : []),
    ...(refused > depth ? ['the attempt came after the depth'] : []),
  ];
}

describe('a spoken case', () => {
  /** One run serves both tests that need the flagship as it is. */
  let flagshipRun: ReturnType<typeof rehearse> | null = null;
  const rehearseFlagship = () => (flagshipRun ??= rehearse(() => undefined));

  it(
    '[ALL1] refuses the baseplate before the depth and lets it in after “two four … confirm”',
    { timeout: LONG_MS },
    async () => {
      const { isRight, entries, report } = await rehearseFlagship();
      expect(checkBaseplate(entries)).toEqual([]);
      const depths = entries.filter(
        (entry) => entry.type === 'capture.confirmed' && entry.data.capture === 'depth',
      );
      expect(depths.map(({ data }) => data)).toEqual([{ capture: 'depth', value: 24 }]);
      expect(report.falseActivations).toEqual([]);
      expect(report.stoppedAt).toBeNull();
      expect(isRight).toBe(true);
    },
  );

  it(
    '[ALL1] would be seen to fail with the hold point taken out of the data',
    { timeout: LONG_MS },
    async () => {
      const holdPoints = flagship.holdPoints.filter(({ id }) => id !== 'baseplate');
      const { entries } = await rehearse(() => undefined, { ...flagship, holdPoints });
      expect(checkBaseplate(entries)).toContain(
        'the spoken attempt was not refused at the hold point',
      );
    },
  );

  it(
    '[ALL2] makes no fact of a size that was taken back or only offered',
    { timeout: LONG_MS },
    async () => {
      const { entries } = await rehearseFlagship();
      const offered = entries.filter(
        (entry) => entry.type === 'capture.offered' && entry.data.value === 28,
      );
      expect(offered.length).toBeGreaterThan(0);
      expect(
        entries.some((entry) => entry.type === 'capture.confirmed' && entry.data.value === 28),
      ).toBe(false);
    },
  );

  it.skipIf(!canSpeak())(
    '[ALL20] of a wrist plate ends with every size as said, a changed one and what relied on it as well',
    { timeout: LONG_MS },
    async () => {
      const plan = REHEARSAL_PLANS.find(({ procedure }) => procedure === 'wrist-plate');
      if (!plan) throw new Error('No plan of a wrist plate');
      const { isRight, entries, report } = await rehearsePlan(plan, () => undefined);
      expect(report.stoppedAt).toBeNull();
      expect(report.falseActivations).toEqual([]);
      const sizes = new Map<string, unknown>();
      for (const { type, data } of entries)
        if (type === 'capture.confirmed') sizes.set(data.capture, data.value);
      // As the plan's people say them: the shaft screw was 3.4 first, with its sleeve.
      expect(Object.fromEntries(sizes)).toMatchObject({
        reduction: 'held',
        breadth: 'medium',
        'plate-opened': 'medium',
        'plate-side': 'left',
        'shaft-size': 2.6,
        'sleeve-fitted': 1.9,
        'shaft-length': 15,
        'hole-1-length': 18,
        'hole-2-length': 21,
        'hole-3-length': 21,
        'hole-3-kind': 'non-locking',
        'shaft-1-length': 12,
      });
      const types = entries.map(({ type }) => type);
      expect(types.filter((type) => type === 'tally.added')).toHaveLength(2);
      expect(types).toContain('alternative.chosen');
      expect(types).toContain('timer.answered');
      expect(types).toContain('step.leftOut');
      expect(
        entries.some(({ type, data }) => type === 'order.refused' && data.holdPoint === 'incision'),
      ).toBe(true);
      expect(isRight).toBe(true);
    },
  );

  it(
    '[ALL21] with the noise of a theatre 10 dB below the speech, ends with the right sizes and no other fact',
    async () => {
      const { isRight, entries, report, summary } = await rehearse(() => undefined, undefined, 10);
      expect(summary['differing']).toEqual([]);
      expect(isRight).toBe(true);
      expect(report.falseActivations).toEqual([]);
      // Nine of ten at the first try, and next to nothing pressed at the desk.
      expect(report.rightAtFirst).toBeGreaterThan(report.spoken * 0.9);
      expect(report.typed.length).toBeLessThan(report.spoken / 10);
      // Nothing was confirmed and changed afterwards but what the script takes back.
      expect(entries.filter(({ type }) => type === 'order.undone')).toEqual([]);
    },
    LONG_MS * 4,
  );
});
