/**
 * A spoken and scanned case on real sound: flite's voices through the real listener, labels
 * through the real reader. Angles: definition A with numpy, outside this project (−20°, 10° to
 * neutral on a right shoulder: 22.0200°, 9.806 h). Packs are Example S's, invented.
 */
import { describe, expect, it } from 'vitest';
import { openCase, thisMorning } from '../../src/cli/rehearsal-case';
import { rehearsePlan } from '../../src/cli/rehearse';
import { VirtualClock } from '../../src/cli/virtual-room';
import { fault, faultToOperatorText } from '../../src/domain';
import type { Entry } from '../../src/domain';
import { CaseLog, IMPLANTS_REHEARSAL, writeScript } from '../../src/session';
import type { RehearsalPlan } from '../../src/session';
import { canSpeak } from './can-speak';

const LONG = { timeout: 300_000 };

/** The view after the first entries of a case, up to one that is looked for. */
function viewAt(entries: readonly Entry[], test: (entry: Entry) => boolean) {
  const log = CaseLog.rebuild(entries.slice(0, entries.findIndex(test) + 1), {
    addressPhrase: '',
    lapseMs: 12_000,
  });
  if (!log.ok) throw new Error(log.error.code);
  return log.value.view(0, null).implants;
}

const isBegun = (step: string) => (entry: Entry) =>
  entry.type === 'step.begun' && entry.data.step === step;

describe('a spoken and scanned case', () => {
  it.skipIf(!canSpeak())(
    '[IMP30] shows the sheet and the marks, catches each wrong pack in its own words, and lists what was confirmed',
    LONG,
    async () => {
      const { isRight, entries, report, summary } = await rehearsePlan(IMPLANTS_REHEARSAL, () => undefined); // prettier-ignore
      expect([summary['differing'], report.stoppedAt, report.falseActivations]).toEqual([[], null, []]); // prettier-ignore

      const { figures, face } = viewAt(entries, isBegun('mark-direction'));
      expect(figures?.angleDeg).toBeCloseTo(22.02, 4);
      expect((figures?.thickMin ?? 0) / 60).toBeCloseTo(9.806, 3);
      const most = figures?.choices.find(({ wedgeDeg }) => wedgeDeg === 24);
      // In the computed direction what is left is the difference: 24 − 22.0200.
      expect([most?.leftDeg?.toFixed(2), most?.isOver]).toEqual(['1.98', true]);
      expect(face).toMatchObject({ isNow: true, markedMin: null });
      for (const step of ['align-reamer', 'insert-baseplate']) {
        // Marked at 10:00, planned at 9.806 h: 11.6 minutes, 5.8 degrees clockwise.
        const marked = viewAt(entries, isBegun(step)).face;
        expect(marked).toMatchObject({ isNow: true, markedMin: 600, wedgeDeg: 24 });
        expect(marked?.turnDeg?.toFixed(1)).toBe('5.8');
      }

      const found = entries.flatMap((entry) =>
        entry.type === 'label.scanned'
          ? entry.data.findings
              .filter(({ weight }) => weight === 'stop')
              .map(({ code, params }) => faultToOperatorText(fault(code, params)).happened)
          : [],
      );
      const year = new Date().getFullYear();
      expect(found).toEqual([
        'Post 28 mm does not go with Post drill 24: The post is as long as the hole was drilled deep',
        'Baseplate 24°, small, left is for the left side; this is a right one',
        expect.stringMatching(`^Baseplate 24°, small, right expired on ${year - 1}-01-01; today is ${year}-`),
        'Post 24 mm with this serial number or lot is already implanted in this case',
      ]); // prettier-ignore
      const closed = entries.filter(
        ({ type, data }) => type === 'order.refused' && data.order?.type === 'pack.move',
      );
      expect(closed).toHaveLength(4);

      const { packs, notScanned, notConfirmed, unsettled } = viewAt(
        entries,
        ({ type }) => type === 'case.closed',
      );
      expect([notScanned, notConfirmed, unsettled]).toEqual([[], [], []]);
      const implanted = packs.filter(({ state }) => state === 'implanted');
      // The sizes that were said: 24°, small; 24; locking 30 and non-locking 26; 40.
      expect(implanted.map(({ title }) => title)).toEqual([
        'Baseplate 24°, small, right',
        'Post 24 mm',
        'Screw locking, 30 mm',
        'Screw non-locking, 26 mm',
        'Glenosphere 40 mm',
      ]);
      expect(isRight).toBe(true);
    },
  );

  it('[IMP30] is not written where a pack that must be caught is clear', LONG, async () => {
    const clear = { article: 'post-24', serial: 'P9' };
    const plan: RehearsalPlan = {
      ...IMPLANTS_REHEARSAL,
      scenes: [{ at: 'press-post', catch: clear, as: 'pack-does-not-fit' }],
    };
    const clock = new VirtualClock(thisMorning());
    const running = await openCase(clock, { procedure: plan.procedure, side: plan.side, plan: {} });
    const { stuck } = await writeScript({ running, advance: (ms) => { clock.advance(ms); } }, plan); // prettier-ignore
    expect(stuck).toContain('press-post');
  });
});
