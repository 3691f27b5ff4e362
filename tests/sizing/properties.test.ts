/** What holds for any angles: there and back, mirrored sides, small angles, large ones. */
import { fc, test } from '@fast-check/vitest';
import { expect } from 'vitest';
import {
  angleBetween,
  directionToClock,
  nearestMark,
  placeWedge,
  turnBetween,
  wedgeBetween,
} from '../../src/sizing';
import type { Orientation } from '../../src/sizing';
import { angleOf, normalOf, placeByMatrices } from './matrices';

const angles = (limit: number): fc.Arbitrary<Orientation> =>
  fc.record({
    versionDeg: fc.double({ min: -limit, max: limit, noNaN: true }),
    inclinationDeg: fc.double({ min: -limit, max: limit, noNaN: true }),
  });

test.prop([angles(60), angles(60)])(
  '[SIZ9] the wedge that is needed, placed, gives the target',
  (native, target) => {
    const wedge = wedgeBetween(native, target);
    const result = placeWedge(native, wedge.angleDeg, wedge.directionDeg ?? 0);
    expect(Math.abs((result?.versionDeg ?? NaN) - target.versionDeg)).toBeLessThan(1e-9);
    expect(Math.abs((result?.inclinationDeg ?? NaN) - target.inclinationDeg)).toBeLessThan(1e-9);
  },
);

test.prop([angles(89), angles(89)])(
  '[SIZ9] and so it does at very large angles',
  (native, target) => {
    const { angleDeg, directionDeg } = wedgeBetween(native, target);
    expect(angleDeg).toBeCloseTo(angleOf(normalOf(native), normalOf(target)), 5);
    expect(angleDeg).toBeLessThan(180);
    const result = placeWedge(native, angleDeg, directionDeg ?? 0);
    // Near 90 degrees a slice angle changes without bound; the face itself does not.
    expect(result && angleBetween(result, target)).toBeLessThan(1e-9);
  },
);

test.prop([
  angles(60),
  fc.double({ min: 0, max: 25, noNaN: true }),
  fc.double({ min: 0, max: 360, noNaN: true }),
])('[SIZ4] placing agrees with rotation matrices', (native, angleDeg, directionDeg) => {
  const result = placeWedge(native, angleDeg, directionDeg);
  const again = placeByMatrices(native, angleDeg, directionDeg);
  expect(result?.versionDeg).toBeCloseTo(again.versionDeg, 8);
  expect(result?.inclinationDeg).toBeCloseTo(again.inclinationDeg, 8);
});

test.prop([angles(60), angles(60)])(
  '[SIZ2] a left shoulder is the mirror of a right one',
  (native, target) => {
    const { directionDeg } = wedgeBetween(native, target);
    fc.pre(directionDeg !== null);
    const right = directionToClock(directionDeg ?? 0, 'right');
    const left = directionToClock(directionDeg ?? 0, 'left');
    // 12 o'clock is 0 and 720.
    expect(Math.abs(turnBetween(0, right) + turnBetween(0, left)) % 360).toBeLessThan(1e-9);
  },
);

test.prop([angles(2), angles(2)])(
  '[SIZ9] below two degrees the small-angle formula agrees',
  (native, target) => {
    const { angleDeg } = wedgeBetween(native, target);
    const flat = Math.hypot(
      target.versionDeg - native.versionDeg,
      target.inclinationDeg - native.inclinationDeg,
    );
    // Third-order terms of tan and of the normal's length at 2 degrees: below 0.2 %.
    expect(Math.abs(angleDeg - flat)).toBeLessThanOrEqual(2e-3 * flat + 1e-12);
  },
);

test.prop([fc.integer({ min: 0, max: 719 }), fc.integer({ min: -359, max: 360 })])(
  '[SIZ10] the turn between two marks is signed, clockwise positive, and at most half a circle',
  (planned, minutes) => {
    const marked = (planned + minutes + 720) % 720;
    expect(turnBetween(planned, marked)).toBe(minutes / 2);
  },
);

test.prop([fc.double({ min: 0, max: 719.99, noNaN: true }), fc.constantFrom(15, 30, 60)])(
  '[SIZ10] the nearest mark is at most half a step away',
  (minutes, stepMin) => {
    const mark = nearestMark(minutes, stepMin);
    expect(mark % stepMin).toBe(0);
    expect(mark).toBeLessThan(720);
    expect(Math.abs(turnBetween(minutes, mark)) * 2).toBeLessThanOrEqual(stepMin / 2 + 1e-9);
  },
);
