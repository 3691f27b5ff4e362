/**
 * What a turned wedge costs. Expected numbers: the published table, computed with
 * numpy outside this project; worked out again with mathjs's rotation matrices.
 */
import { fc, test as property } from '@fast-check/vitest';
import { expect, test } from 'vitest';
import {
  placeWedge,
  turnAllowed,
  turningError,
  turningTable,
  wedgeBetween,
} from '../../src/sizing';
import { angleOf, normalOf, placeByMatrices } from './matrices';

// wedge, turn, error, along, across
const TURNED = [
  [10, 10, 1.7343, 9.8511, 1.7538],
  [10, 30, 5.1519, 8.6822, 5.0384],
  [15, 15, 3.8719, 14.5108, 3.9671],
  [20, 20, 6.8097, 18.8817, 7.096],
  [20, 30, 10.1571, 17.4952, 10.3141],
  [30, 45, 22.0622, 22.2077, 22.2077],
  [15, 90, 21.0906, 0, 15.0],
  [10, 180, 20.0, -10, 0],
] as const;

test.each(TURNED)(
  '[SIZ7] a wedge of %f turned by %f errs by %f: %f along, %f across',
  (wedgeDeg, turnDeg, errorDeg, alongDeg, acrossDeg) => {
    const error = turningError(wedgeDeg, turnDeg);
    expect(error.errorDeg).toBeCloseTo(errorDeg, 4);
    expect(error.alongDeg).toBeCloseTo(alongDeg, 4);
    expect(error.acrossDeg).toBeCloseTo(acrossDeg, 4);
    // By matrices, on a flat face with the mark up: what is left upward and what comes sideways.
    const flat = { versionDeg: 0, inclinationDeg: 0 };
    const meant = placeByMatrices(flat, wedgeDeg, 0);
    const got = placeByMatrices(flat, wedgeDeg, turnDeg);
    expect(angleOf(normalOf(meant), normalOf(got))).toBeCloseTo(error.errorDeg, 6);
    expect(-got.inclinationDeg).toBeCloseTo(error.alongDeg, 9);
    expect(-got.versionDeg).toBeCloseTo(error.acrossDeg, 9);
  },
);

// turn off the mark, version and inclination that follow, error against the target
test.each([
  [-15, 1.8215, 5.3098, 5.6101],
  [15, -3.0465, -4.7198, 5.6101],
  [-30, 2.3243, 10.9039, 11.1374],
  [30, -7.1822, -8.6011, 11.1374],
])(
  '[SIZ7] the worked example set %f off its mark ends at %f, %f',
  (turnDeg, version, inclination, errorDeg) => {
    const native = { versionDeg: -20, inclinationDeg: 10 };
    const wedge = wedgeBetween(native, { versionDeg: 0, inclinationDeg: 0 });
    const got = placeWedge(native, wedge.angleDeg, (wedge.directionDeg ?? NaN) + turnDeg);
    expect(got?.versionDeg).toBeCloseTo(version, 4);
    expect(got?.inclinationDeg).toBeCloseTo(inclination, 4);
    expect(turningError(wedge.angleDeg, turnDeg).errorDeg).toBeCloseTo(errorDeg, 4);
  },
);

test('[SIZ8] the tolerance is the turn that costs what is allowed, and none where no turn can', () => {
  for (const [wedgeDeg, turnDeg, errorDeg] of TURNED.slice(0, 6)) {
    // The table's errors have four decimals, which a tolerance magnifies.
    expect(turnAllowed(wedgeDeg, errorDeg)).toBeCloseTo(turnDeg, 2);
  }
  expect(turnAllowed(8, 16.1)).toBeNull();
  expect(turnAllowed(0, 1)).toBeNull();
});

property.prop([
  fc.double({ min: 1, max: 60, noNaN: true }),
  fc.double({ min: 0.1, max: 179, noNaN: true }),
])('[SIZ8] tolerance and turning error undo each other', (wedgeDeg, turnDeg) => {
  const { errorDeg } = turningError(wedgeDeg, turnDeg);
  expect(turnAllowed(wedgeDeg, errorDeg)).toBeCloseTo(turnDeg, 6);
});

test('[SIZ7] the small table grows with the turn', () => {
  const errors = turningTable(16).map(({ errorDeg }) => errorDeg);
  expect(errors).toHaveLength(5);
  expect([...errors].sort((a, b) => a - b)).toEqual(errors);
  expect(errors[0]).toBeGreaterThan(0);
});
