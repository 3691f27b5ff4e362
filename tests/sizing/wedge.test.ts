/**
 * Wedge and direction, both ways. Expected numbers: the published tables of definition
 * A, computed with numpy (Rodrigues rotation) outside this project. The same tests
 * work them out again with the rotation matrices of mathjs.
 */
import { cross } from 'mathjs';
import { expect, test } from 'vitest';
import { clockToText } from '../../src/domain';
import {
  checkOrientation, clockToDirection, directionToClock, placeWedge, thicknessDifference, toWholeMinute,
  wedgeBetween,
} from '../../src/sizing'; // prettier-ignore
import type { Orientation } from '../../src/sizing';
import { anglesOf, clockSeen, normalOf, placeByMatrices, turn, turnNeeded } from './matrices';

const face = (versionDeg: number, inclinationDeg: number): Orientation => ({
  versionDeg,
  inclinationDeg,
});
const neutral = face(0, 0);

// native, target, wedge, direction, clock right, clock left (hours), D sin, D tan over 25 mm
const NEEDED = [
  [face(-15, 0), neutral, 15.0, 270.0, 9.0, 3.0, 6.47, 6.699],
  [face(0, 20), neutral, 20.0, 0.0, 0, 0, 8.551, 9.099],
  [face(-20, 10), neutral, 22.02, 294.1856, 9.806, 2.194, 9.373, 10.111],
  [face(-25, 15), face(-10, 0), 20.1748, 311.3707, 10.379, 1.621, 8.622, 9.186],
  [face(-8, 21), face(0, -5), 26.9811, 342.2066, 11.407, 0.593, 11.342, 12.728],
  [face(12, 12), neutral, 16.7308, 46.2388, 1.541, 10.459, 7.197, 7.515],
  [face(-30, 5), face(-10, 0), 20.4452, 281.7266, 9.391, 2.609, 8.733, 9.32],
] as const;

test.each(NEEDED)(
  '[SIZ1] %o to %o needs a wedge of %f degrees at %f',
  (native, target, angleDeg, directionDeg) => {
    const wedge = wedgeBetween(native, target);
    expect(wedge.angleDeg).toBeCloseTo(angleDeg, 4);
    expect(wedge.directionDeg).toBeCloseTo(directionDeg, 4);

    const needed = turnNeeded(native, target);
    expect(needed.angleDeg).toBeCloseTo(wedge.angleDeg, 6);
    const turned = anglesOf(turn(normalOf(native), needed.angleDeg, needed.axis));
    expect(turned.versionDeg).toBeCloseTo(target.versionDeg, 6);
    expect(turned.inclinationDeg).toBeCloseTo(target.inclinationDeg, 6);
  },
);

test.each(NEEDED)(
  '[SIZ2] %o to %o: the thick side is seen at the same place of the clock on both sides',
  (native, target, _angle, _direction, right, left) => {
    const { directionDeg } = wedgeBetween(native, target);
    expect(directionDeg).not.toBeNull();
    const clocks = { right, left };
    // The face turns about an axis within itself; the thick side lies square to that axis.
    const { axis } = turnNeeded(native, target);
    const thick = cross(axis, normalOf(native)).valueOf() as number[];
    const away = thick.map((part) => -part);
    for (const side of ['right', 'left'] as const) {
      const hours = directionToClock(directionDeg ?? NaN, side) / 60;
      expect(hours % 12).toBeCloseTo(clocks[side], 3);
      const seen = clockSeen(away, normalOf(native), side);
      expect(Math.abs(((hours - seen + 18) % 12) - 6)).toBeLessThan(1e-9);
      expect(clockToDirection(hours * 60, side)).toBeCloseTo(directionDeg ?? NaN, 9);
    }
  },
);

test('[SIZ2] the worked example reads 22.0 degrees at 9:48 on a right shoulder, 2:12 on a left one', () => {
  const { angleDeg, directionDeg } = wedgeBetween(face(-20, 10), neutral);
  expect(angleDeg.toFixed(1)).toBe('22.0');
  const shown = (side: 'left' | 'right'): string =>
    clockToText(toWholeMinute(directionToClock(directionDeg ?? NaN, side)));
  expect(shown('right')).toBe('9:48');
  expect(shown('left')).toBe('2:12');
});

test.each(NEEDED)(
  '[SIZ3] %o to %o: thickness over 25 mm along the new face and along the native one',
  (native, target, _angle, _direction, _right, _left, alongNew, alongNative) => {
    const { angleDeg } = wedgeBetween(native, target);
    expect(thicknessDifference(angleDeg, 25, 'new-face')).toBeCloseTo(alongNew, 3);
    expect(thicknessDifference(angleDeg, 25, 'native-face')).toBeCloseTo(alongNative, 3);
  },
);

// native, wedge, direction, what follows
const PLACED = [
  [face(-20, 10), 10, 270, -9.8665, 9.4005],
  [face(-20, 10), 20, 315, -5.9527, -4.9015],
  [face(-15, 5), 15, 270, 0.051, 4.6655],
  [face(0, 20), 20, 0, 0, 0],
  [face(-25, 15), 20, 300, -7.7431, 3.215],
] as const;

test.each(PLACED)(
  '[SIZ4] %o under a wedge of %f at %f becomes %f, %f',
  (native, angleDeg, directionDeg, versionDeg, inclinationDeg) => {
    const result = placeWedge(native, angleDeg, directionDeg);
    const again = placeByMatrices(native, angleDeg, directionDeg);
    expect(result?.versionDeg).toBeCloseTo(versionDeg, 4);
    expect(result?.inclinationDeg).toBeCloseTo(inclinationDeg, 4);
    expect(again.versionDeg).toBeCloseTo(result?.versionDeg ?? NaN, 9);
    expect(again.inclinationDeg).toBeCloseTo(result?.inclinationDeg ?? NaN, 9);
  },
);

// Slice angles are not azimuth and elevation: the other reading gives these wedges.
test.each([
  [face(-20, 10), neutral, 22.2687],
  [face(-25, 15), face(-10, 0), 21.0906],
  [face(-8, 21), face(0, -5), 27.159],
])('[SIZ1] %o to %o is not read as azimuth and elevation', (native, target, otherReading) => {
  const { angleDeg } = wedgeBetween(native, target);
  expect(Math.abs(angleDeg - otherReading)).toBeGreaterThan(0.1);
});

test('[SIZ5] no correction needs no wedge and has no direction', () => {
  expect(wedgeBetween(face(-12, 7), face(-12, 7))).toEqual({ angleDeg: 0, directionDeg: null });
});

test('[SIZ5] a wedge so steep that the face no longer looks outward gives no angles', () => {
  expect(placeWedge(face(0, 60), 40, 180)).toBeNull();
  expect(placeWedge(face(0, 60), 20, 180)?.inclinationDeg).toBeCloseTo(80, 9);
});

test.each([NaN, Infinity, 90, -90, 400])('[SIZ6] %f is refused as an angle, by name', (value) => {
  const wrongVersion = checkOrientation(face(value, 0));
  const wrongInclination = checkOrientation(face(0, value));
  expect(wrongVersion).toMatchObject({
    ok: false,
    error: { code: 'angle-not-usable', params: { label: 'Version', value: String(value) } },
  });
  expect(wrongInclination).toMatchObject({ error: { params: { label: 'Inclination' } } });
  expect(checkOrientation(face(-89.9, 89.9)).ok).toBe(true);
});
