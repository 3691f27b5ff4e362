/** When it will be done: from usual times, from cases, given how long it has lasted. */
import { describe, expect, test } from 'vitest';
import {
  digestCase,
  EndForecast,
  basisToShortText,
  basisToText,
  learnTeam,
} from '../../src/review';
import { RestOfCase } from '../../src/review/forecast/simulate';
import { findStanding } from '../../src/review/forecast/standing';
import { fitMoments, lognormalQuantile, remainingQuantile } from '../../src/review/statistics/lognormal'; // prettier-ignore
import { HandCase, OUTLINE } from './hand-case';
import { tellTruth, tryForecast } from './forecast-trial';
import { digestOf, makeTeam, outlineOf, standingAt } from './synthetic-team';
import type { MadeCase, PhasePlan } from './synthetic-team';

const MINUTE = 60_000;
const ONE: readonly PhasePlan[] = [
  { id: 'only', usualMin: 60, medianMin: 60, sigma: 0.25, again: 0, missing: 0 },
];
const cases = (minutes: readonly number[], id = 'only') =>
  minutes.map((min): MadeCase => [{ id, passesMin: [min] }]).map(digestOf);

describe('the digest', () => {
  test('[REV34] a loop cuts a phase into passes; a phase ends where the next one begins', () => {
    const hand = new HandCase();
    hand.begin('cut').pass(4).finish('cut').pass(1);
    hand.begin('shape').pass(3).finish('shape').begin('try').pass(1);
    hand.add({
      type: 'loop.repeated',
      data: { loop: 'again' as never, from: 'try' as never, to: 'shape' as never },
    });
    hand.finish('try').begin('shape').pass(2).finish('shape').begin('try').pass(1).finish('try');
    hand.pass(5).close();
    const digest = digestCase(hand.entries, OUTLINE);
    expect(
      digest?.phases.map(({ phase, passesMs }) => [phase, passesMs.map((ms) => ms / MINUTE)]),
    ).toEqual([
      ['open', [5]],
      ['ream', [4, 3]],
    ]);
    expect(digest).toMatchObject({ mode: 'demo', totalMs: 17 * MINUTE, outcome: 'finished' });
  });

  test('[REV34] a phase that was left out, cut short or estimated is not whole', () => {
    const left = new HandCase().begin('cut').pass(2);
    left.add({
      type: 'step.skipped',
      data: { track: 'field' as never, step: 'cut' as never, reason: 'x' },
    });
    left.begin('shape').pass(1).close();
    const across = new HandCase()
      .begin('cut')
      .pass(2)
      .restart()
      .finish('cut')
      .begin('shape')
      .pass(1);
    across.finish('shape').close();
    const whole = (hand: HandCase) =>
      digestCase(hand.entries, OUTLINE)?.phases.map(({ isWhole }) => isWhole);
    expect(whole(left)).toEqual([false, false]);
    expect(whole(across)).toEqual([false, true]);
    expect(digestCase([], OUTLINE)).toBeNull();
  });
});

describe('alternatives', () => {
  const chose = (hand: HandCase) =>
    hand.add({
      type: 'alternative.chosen',
      data: {
        track: 'field' as never,
        alternative: 'other' as never,
        at: 'cut' as never,
        moved: {},
      },
    });

  test('[REV34] an alternative that was taken stands in the digest by its label; taken back, it does not', () => {
    const taken = new HandCase().begin('cut').pass(2);
    chose(taken);
    taken.pass(1).close();
    expect(digestCase(taken.entries, OUTLINE)?.alternatives).toEqual(['The other way']);
    const back = new HandCase().begin('cut').pass(2);
    chose(back);
    const since = back.entries.at(-1)?.seq ?? 0;
    back.add({
      type: 'order.undone',
      data: { order: 'alternative.choose', since, restores: { positions: {}, context: {} } },
    });
    back.close();
    expect(digestCase(back.entries, OUTLINE)?.alternatives).toEqual([]);
  });

  test('[REV37] a phase of an alternative hardly counts before any case; one that is known only there stops nothing', () => {
    const main = outlineOf([{ ...(ONE[0] as PhasePlan) }]);
    const other = outlineOf([{ ...(ONE[0] as PhasePlan), id: 'aside' }]).phases.map((phase) => ({
      ...phase,
      alternative: 'other' as never,
    }));
    const left = (outline: typeof main) => {
      const team = learnTeam(outline, []);
      if (!team) throw new Error('The main line has usual times');
      const standing = {
        ...standingAt([{ id: 'only', passesMin: [60] }], ONE, 0),
        ahead: ['aside' as never],
      };
      return new RestOfCase(team, standing, 1, 2000).left(0).medianMs / MINUTE;
    };
    const alone = left(main);
    expect(Math.abs(left({ ...main, phases: [...main.phases, ...other] }) - alone)).toBeLessThan(3);
    const unknown = other.map((phase) => ({ ...phase, usualMin: null }));
    expect(Math.abs(left({ ...main, phases: [...main.phases, ...unknown] }) - alone)).toBeLessThan(
      3,
    );
  });
});

describe('alternatives that drop phases together', () => {
  /** Twelve phases of ten minutes each, hardly spread; three cases in ten end after the second. */
  const TWELVE = Array.from({ length: 12 }, (_, index): PhasePlan => {
    return { id: `p${index}`, usualMin: 10, medianMin: 10, sigma: 0.02, again: 0, missing: 0 };
  });
  const madeOf = (count: number) =>
    TWELVE.slice(0, count).map(({ id }) => ({ id, passesMin: [10] }));
  const history = Array.from({ length: 60 }, (_, place) =>
    place % 10 < 3
      ? { ...digestOf(madeOf(2), place), alternatives: ['Stopped early'] }
      : digestOf(madeOf(12), place),
  );
  const left = (minutes: number, count = 12) => {
    const team = learnTeam(outlineOf(TWELVE), history);
    if (!team) throw new Error('Sixty cases say something');
    const standing = standingAt(madeOf(count), TWELVE, minutes);
    const inPass = standing.current ? standing.nowMs - standing.current.sinceMs : 0;
    return new RestOfCase(team, standing, 1, 2000).left(inPass);
  };

  test('[REV78] a case that may end early ends early as a whole: after two phases or after twelve', () => {
    // By the way the cases are made: 20 minutes in three of ten, 120 in seven of ten.
    const { lowMs, medianMs, highMs } = left(0);
    expect(lowMs / MINUTE).toBeGreaterThan(17);
    expect(lowMs / MINUTE).toBeLessThan(24);
    expect(medianMs / MINUTE).toBeGreaterThan(110);
    expect(highMs / MINUTE).toBeLessThan(135);
  });

  test('[REV78] once a phase is begun that an early end drops, it no longer counts', () => {
    // In the third phase, 25 minutes in: 95 are left, whatever the other cases did.
    const { lowMs, highMs } = left(25);
    expect(lowMs / MINUTE).toBeGreaterThan(84);
    expect(highMs / MINUTE).toBeLessThan(106);
  });
});

describe('an alternative that can be taken at several places', () => {
  const TWELVE = Array.from({ length: 12 }, (_, index): PhasePlan => {
    return { id: `p${index}`, usualMin: 10, medianMin: 10, sigma: 0.02, again: 0, missing: 0 };
  });
  const madeOf = (count: number) =>
    TWELVE.slice(0, count).map(({ id }) => ({ id, passesMin: [10] }));
  const teamOf = (counts: readonly number[]) => {
    const history = counts.map((count, place) => ({
      ...digestOf(madeOf(count), place),
      alternatives: count < 12 ? ['Stopped early'] : [],
    }));
    const team = learnTeam(outlineOf(TWELVE), history);
    if (!team) throw new Error('These cases say something');
    return team;
  };
  const left = (team: ReturnType<typeof teamOf>) =>
    new RestOfCase(team, standingAt(madeOf(12), TWELVE, 0), 1, 2000).left(0);

  test('[REV78] is drawn as whole earlier cases: after two phases or after nine, never after some between', () => {
    // Thirty of each, by the way the cases are made: 20 minutes, or 90.
    const both = Array.from({ length: 60 }, (_, place) => (place % 2 === 0 ? 2 : 9));
    const { lowMs, medianMs, highMs } = left(teamOf(both));
    expect(Math.abs(lowMs / MINUTE - 20)).toBeLessThan(4);
    const middle = medianMs / MINUTE;
    expect(Math.min(Math.abs(middle - 20), Math.abs(middle - 90))).toBeLessThan(10);
    expect(Math.abs(highMs / MINUTE - 90)).toBeLessThan(25);
  });

  test('[REV78] is expected from the first case that took it: one in five stopped early, and the interval reaches there', () => {
    expect(left(teamOf([12, 12, 12, 12, 2])).lowMs / MINUTE).toBeLessThan(35);
    expect(left(teamOf([12, 12, 12, 12, 12])).lowMs / MINUTE).toBeGreaterThan(90);
  });
});

describe('what is left', () => {
  test('[REV35] of one phase with many cases is the lognormal’s own remaining time', () => {
    // 400 cases at the quantiles of a lognormal with median 60 min: the law itself, without luck.
    const law = { mu: Math.log(60), sigma: 0.25 };
    const many = cases(
      Array.from({ length: 60 }, (_, index) => remainingQuantile(law, 0, (index + 0.5) / 60)),
    );
    const team = learnTeam(outlineOf(ONE), many);
    if (!team) throw new Error('Sixty cases say something');
    for (const elapsed of [0, 30, 60, 75]) {
      const made: MadeCase = [{ id: 'only', passesMin: [1000] }];
      const { medianMs, highMs } = new RestOfCase(
        team,
        standingAt(made, ONE, elapsed),
        1,
        4000,
      ).left(elapsed * MINUTE);
      const exact = remainingQuantile(law, elapsed, 0.5);
      expect(Math.abs(medianMs / MINUTE - exact), `${elapsed} min`).toBeLessThan(0.08 * exact + 1);
      expect(highMs / MINUTE).toBeGreaterThan(remainingQuantile(law, elapsed, 0.8));
    }
  });

  // Padegimas et al. 2019 (PMID 30241986): in to incision, closed to out, and the two together.
  test.each([
    ['specialty hospital', [39.2, 8.0, 7.6, 3.8], [46.8, 8.9]],
    ['referral centre', [46.3, 8.8, 11.2, 4.7], [57.5, 10.4]],
  ] as const)(
    '[REV35] two published intervals, simulated one after the other, take as long as the two together were published (%s)',
    (_, [inMean, inSd, outMean, outSd], [bothMean, bothSd]) => {
      const plans = ([[inMean, inSd], [outMean, outSd]] as const).map(([mean, sd], index): PhasePlan => {
        const { mu, sigma } = fitMoments(mean, sd);
        return { ...(ONE[0] as PhasePlan), id: `p${index}`, medianMin: Math.exp(mu), sigma };
      }); // prettier-ignore
      const made = plans.map(({ id }) => ({ id, passesMin: [60] }));
      const { lowMs, medianMs, highMs } = new RestOfCase(tellTruth(plans), standingAt(made, plans, 0), 1, 8000).left(0); // prettier-ignore
      const both = fitMoments(bothMean, bothSd);
      // A minute: the error of the draws is a quarter of one, and at the referral centre the two were
      // published to go together a little (10.4 against 9.98), which moves the ends by half of one.
      for (const [ms, share] of [[lowMs, 0.1], [medianMs, 0.5], [highMs, 0.9]] as const)
        expect(Math.abs(ms / MINUTE - lognormalQuantile(both, share)), `at ${share}`).toBeLessThan(1); // prettier-ignore
    },
  );

  test('[REV35] long after every earlier case there is still a finite, positive rest', () => {
    const team = learnTeam(outlineOf(ONE), cases([55, 60, 65, 58, 62]));
    if (!team) throw new Error('Five cases say something');
    const standing = standingAt([{ id: 'only', passesMin: [9999] }], ONE, 600);
    const { lowMs, medianMs, highMs } = new RestOfCase(team, standing, 1).left(600 * MINUTE);
    expect(lowMs).toBeGreaterThanOrEqual(0);
    expect(medianMs).toBeGreaterThan(lowMs);
    expect(highMs).toBeLessThan(600 * 60 * MINUTE);
  });

  test('[REV35] the same seed gives the same answer, a loop that is likely adds to it', () => {
    const plan = { ...(ONE[0] as PhasePlan) };
    const withLoops = Array.from({ length: 30 }, (): MadeCase => [
      { id: 'only', passesMin: [60, 30] },
    ]).map(digestOf);
    const standing = standingAt([{ id: 'only', passesMin: [60] }], [plan], 0);
    const left = (history: typeof withLoops) => {
      const team = learnTeam(outlineOf([plan]), history);
      if (!team) throw new Error('Thirty cases say something');
      return new RestOfCase(team, standing, 3).left(0).medianMs;
    };
    expect(left(withLoops)).toBe(left(withLoops));
    expect(left(withLoops) - left(cases(Array.from({ length: 30 }, () => 60)))).toBeGreaterThan(
      10 * MINUTE,
    );
  });

  test('[REV39] a case whose first phase went slowly is expected to go on slowly', () => {
    const plans = ['a', 'b'].map((id): PhasePlan => ({ ...(ONE[0] as PhasePlan), id }));
    // Both phases of a case share its pace.
    const history = Array.from({ length: 40 }, (_, index): MadeCase => {
      const pace = Math.exp(0.3 * Math.sin(index * 2.4));
      const own = 1 + 0.03 * Math.cos(index * 1.7);
      return [
        { id: 'a', passesMin: [60 * pace * own] },
        { id: 'b', passesMin: [(60 * pace) / own] },
      ];
    }).map(digestOf);
    const team = learnTeam(outlineOf(plans), history);
    if (!team) throw new Error('Forty cases say something');
    const leftAfter = (first: number) => {
      const made: MadeCase = [
        { id: 'a', passesMin: [first] },
        { id: 'b', passesMin: [60] },
      ];
      return new RestOfCase(team, standingAt(made, plans, first), 1).left(0).medianMs / MINUTE;
    };
    expect(leftAfter(75)).toBeGreaterThan(66);
    expect(leftAfter(48)).toBeLessThan(55);
  });
});

describe('what is shown', () => {
  const follow = (hand: HandCase) => {
    const usual = {
      ...OUTLINE,
      phases: OUTLINE.phases.map((phase) => ({ ...phase, usualMin: 10 })),
    };
    const team = learnTeam(usual, []);
    if (!team) throw new Error('Usual times say something');
    return EndForecast.follow(team, hand.entries, usual, hand.now, false);
  };

  test('[REV36] stays put while nothing happens, then moves; never lies in the past', () => {
    const hand = new HandCase().begin('cut');
    const forecast = follow(hand);
    const shown: number[] = [];
    for (let half = 0; half < 80; half += 1) {
      const end = forecast.at(hand.now);
      if (!end) throw new Error('The case runs');
      expect(end.endAt).toBeGreaterThan(hand.now.at);
      expect(end.lowAt).toBeGreaterThanOrEqual(hand.now.at);
      expect(end.lowAt).toBeLessThanOrEqual(end.endAt);
      expect(end.highAt).toBeGreaterThanOrEqual(end.endAt);
      shown.push(end.endAt);
      hand.pass(0.5);
    }
    const moves = shown.filter((end, index) => index > 0 && end !== shown[index - 1]);
    expect(moves.length).toBeGreaterThan(1);
    // Forty minutes in a phase that is usually done in ten: a move about every other minute at most.
    expect(moves.length).toBeLessThan(20);
    for (const [index, end] of shown.entries()) {
      const before = shown[index - 1] ?? end;
      if (end !== before) expect(Math.abs(end - before)).toBeGreaterThanOrEqual(MINUTE);
    }
  });

  test('[REV36] a window that comes late shows the same', () => {
    const hand = new HandCase().begin('cut');
    const early = follow(hand);
    for (let minute = 0; minute < 9; minute += 1) {
      early.at(hand.now);
      hand.pass(1);
    }
    expect(follow(hand).at(hand.now)).toEqual(early.at(hand.now));
  });

  test('[REV36] a new phase shows at once', () => {
    const hand = new HandCase().begin('cut').pass(1);
    const before = follow(hand).at(hand.now)?.endAt ?? 0;
    hand.finish('cut').begin('shape');
    const after = follow(hand).at(hand.now)?.endAt ?? 0;
    expect(before - after).toBeGreaterThan(4 * MINUTE);
    expect(findStanding(hand.entries, OUTLINE, hand.now, false)).toMatchObject({
      done: [{ phase: 'open', firstMs: MINUTE }],
      current: { phase: 'ream', pass: 1 },
    });
  });

  test('[REV36] a finished case has no expected end', () => {
    const hand = new HandCase().begin('cut').finish('cut').close();
    expect(follow(hand).at(hand.now)).toBeNull();
  });
});

describe('on what it rests', () => {
  test('[REV37] usual times, then both, then cases', () => {
    const basis = (caseCount: number, hasUsual = true) => basisToText({ caseCount, hasUsual });
    expect(basis(0)).toBe('usual times of the procedure');
    expect(basis(1)).toBe('1 earlier case and usual times');
    expect(basis(5)).toBe('5 earlier cases and usual times');
    expect(basis(5, false)).toBe('5 earlier cases');
    expect(basis(40)).toBe('40 earlier cases');
    // On the wall the same three, in the room that it has.
    const short = [0, 5, 40].map((caseCount) => basisToShortText({ caseCount, hasUsual: true }));
    expect(short).toEqual(['usual', 'few cases', '40 cases']);
  });

  test('[REV37] usual times give way to cases as they come', () => {
    const start = standingAt([{ id: 'only', passesMin: [90] }], ONE, 0);
    const median = (count: number) => {
      const team = learnTeam(
        outlineOf(ONE),
        cases(Array.from({ length: count }, (_, i) => 88 + (i % 5))),
      );
      return team ? new RestOfCase(team, start, 1, 2000).left(0).medianMs / MINUTE : NaN;
    };
    expect(Math.abs(median(0) - 60)).toBeLessThan(4);
    expect(median(3)).toBeGreaterThan(68);
    expect(median(3)).toBeLessThan(88);
    expect(Math.abs(median(30) - 90)).toBeLessThan(4);
  });

  test('[REV37] without usual times and with fewer than two cases nothing is said', () => {
    const plan = [{ ...(ONE[0] as PhasePlan), usualMin: null }];
    expect(learnTeam(outlineOf(plan), [])).toBeNull();
    expect(learnTeam(outlineOf(plan), cases([60]))).toBeNull();
    expect(learnTeam(outlineOf(plan), cases([60, 66]))?.caseCount).toBe(2);
  });

  test('[REV37] abandoned and open cases are no measure', () => {
    const [first] = cases([60]);
    if (!first) throw new Error('One case was made');
    const team = learnTeam(outlineOf(ONE), [
      { ...first, outcome: 'abandoned' },
      { ...first, closedAt: null },
    ]);
    expect(team?.caseCount).toBe(0);
  });
});

test('[REV38] on held-out cases of synthetic teams', { timeout: 60_000 }, () => {
  const trial = tryForecast({
    seed: 20,
    teams: 150,
    heldOut: 3,
    history: (random) => 5 + random.below(56),
    makeTeam,
  });
  let error = 0;
  let errorOfUsual = 0;
  for (const moment of ['start', 'third', 'twoThirds'] as const) {
    const figures = trial[moment];
    expect(figures.held, moment).toBeGreaterThanOrEqual(0.77);
    expect(figures.held, moment).toBeLessThanOrEqual(0.83);
    expect(figures.error, moment).toBeLessThanOrEqual(0.75 * figures.errorOfUsual);
    error += figures.error;
    errorOfUsual += figures.errorOfUsual;
  }
  expect(error).toBeLessThanOrEqual(0.75 * errorOfUsual);
});

// A thousand cases, so that a share has a standard error of 0.013; the limit of time is for a busy machine.
test('[REV38] on held-out cases of teams in which three of ten cases stop after the second phase', { timeout: 240_000 }, () => {
  const trial = tryForecast({
    seed: 108,
    teams: 200,
    heldOut: 5,
    history: (random) => 5 + random.below(56),
    makeTeam,
    earlyStop: { after: 2, chance: 0.3 },
  });
  for (const moment of ['start', 'third', 'twoThirds'] as const) {
    expect(trial[moment].held, moment).toBeGreaterThanOrEqual(0.77);
    expect(trial[moment].held, moment).toBeLessThanOrEqual(0.83);
  }
}); // prettier-ignore
