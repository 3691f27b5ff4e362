/**
 * What each wedge that exists would leave. The volume is checked by adding up thin
 * columns of bone under the plate; published clinical ranges serve as bounds only.
 */
import { expect, test } from 'vitest';
import { INCLINATION_MEASURES } from '../../src/domain';
import { boneRemoved, compareWedges, INCLINATION_MEASURE_TEXT } from '../../src/sizing';
import { angleOf, normalOf, placeByMatrices } from './matrices';

const native = { versionDeg: -20, inclinationDeg: 10 };
const neutral = { versionDeg: 0, inclinationDeg: 0 };
/** Example S's wedges and the width of its small plate (invented). */
const rows = compareWedges(native, neutral, [16, 8, 24], 26);

test('[SIZ11] every wedge and none, in rising order, with what each leaves', () => {
  expect(rows.map(({ wedgeDeg }) => wedgeDeg)).toEqual([0, 8, 16, 24]);
  for (const { wedgeDeg, result, leftDeg } of rows) {
    const again = placeByMatrices(native, wedgeDeg, 294.1855595234448);
    expect(result?.versionDeg).toBeCloseTo(again.versionDeg, 8);
    expect(result?.inclinationDeg).toBeCloseTo(again.inclinationDeg, 8);
    expect(leftDeg).toBeCloseTo(angleOf(normalOf(again), normalOf(neutral)), 6);
    // Set in the same direction, what is left is the difference of the angles (22.0200 by the table).
    expect(leftDeg).toBeCloseTo(Math.abs(22.02 - wedgeDeg), 4);
  }
  expect(rows.map(({ isOver }) => isOver)).toEqual([false, false, false, true]);
});

test('[SIZ11] the nearest leaves least; where nothing is needed, that is no wedge', () => {
  expect(rows.filter(({ isNearest }) => isNearest).map(({ wedgeDeg }) => wedgeDeg)).toEqual([24]);
  const between = compareWedges({ versionDeg: 0, inclinationDeg: 0 }, neutral, [8], 26);
  expect(between.filter(({ isNearest }) => isNearest).map(({ wedgeDeg }) => wedgeDeg)).toEqual([0]);
});

test('[SIZ12] bone removed is the sum of its columns under a round plate', () => {
  for (const [tiltDeg, plateMm] of [
    [22.02, 26],
    [6, 30],
    [1, 26],
  ] as const) {
    const radius = plateMm / 2;
    const slope = Math.tan((tiltDeg * Math.PI) / 180);
    const parts = 400;
    const cell = plateMm / parts;
    let volume = 0;
    let deepest = 0;
    for (let i = 0; i < parts; i += 1) {
      for (let j = 0; j < parts; j += 1) {
        const [x, y] = [-radius + (i + 0.5) * cell, -radius + (j + 0.5) * cell];
        if (Math.hypot(x, y) > radius) continue;
        const height = (x + radius) * slope;
        volume += height * cell * cell;
        // A column stands square to the new face; depth is taken square to the old one.
        deepest = Math.max(deepest, height * Math.cos((tiltDeg * Math.PI) / 180));
      }
    }
    const bone = boneRemoved(tiltDeg, plateMm);
    expect(bone.volumeMm3 / volume).toBeCloseTo(1, 3);
    expect(bone.deepestMm / deepest).toBeCloseTo(1, 2);
  }
});

test('[SIZ12] bone is compared with none: no wedge is the whole, the nearest wedge the least', () => {
  expect(rows[0]?.boneShare).toBe(1);
  const shares = rows.map(({ boneShare }) => boneShare ?? NaN);
  expect(Math.min(...shares)).toBe(shares[3]);
  expect(rows[3]?.boneShare).toBeLessThan(0.1);
  const nothing = compareWedges(neutral, neutral, [8], 26);
  expect(nothing[0]?.boneShare).toBeNull();
});

test('[SIZ13] the two published inclinations are told apart in words', () => {
  const texts = INCLINATION_MEASURES.map((measure) => INCLINATION_MEASURE_TEXT[measure]);
  expect(new Set(texts.map(({ short }) => short)).size).toBe(2);
  expect(texts[0]?.long).toContain('β angle');
  expect(texts[1]?.long).toContain('RSA angle');
});

/**
 * Published ranges as bounds of what is plausible, not as targets: native version of
 * 60 shoulders -13.0 to +10.3 (PMID 29778592), of augmented cases to about -25; RSA angle
 * 25 ± 8 (Boileau et al. 2019). Wedges in the literature lie roughly between 7 and 35
 * degrees (from memory).
 */
test('[SIZ1] shoulders within published ranges need wedges of a plausible size', () => {
  for (const versionDeg of [-13, 0, 10.3]) {
    for (const inclinationDeg of [9, 25, 41]) {
      const [none] = compareWedges({ versionDeg, inclinationDeg }, neutral, [], 26);
      expect(none?.leftDeg).toBeGreaterThan(0);
      expect(none?.leftDeg).toBeLessThan(45);
    }
  }
});
