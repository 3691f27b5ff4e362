/**
 * The planning sheet and the drawing. Expected figures: the table of definition A,
 * computed with numpy outside this project (docs/sizing.md).
 */
import { describe, expect, test } from 'vitest';
import { catalogueFor, socketPlateOf } from '../../src/sizing';
import { holePlaces, namesOf, oppositeOf, placeAt } from '../../src/ui/plan/face-places';
import { faceToSentence, minuteToText, turnToText } from '../../src/ui/plan/face-text';
import { allowedToText, choiceRows, neededToText } from '../../src/ui/plan/figures-text';
import { readDegrees, SheetModel } from '../../src/ui/plan/sheet-model.svelte';

function shoulderPlate() {
  const catalogue = catalogueFor('reverse-shoulder-glenoid');
  const plate = catalogue && socketPlateOf(catalogue);
  if (!plate) throw new Error('Example S has no plate');
  return plate;
}

function filled(): SheetModel {
  const sheet = new SheetModel();
  sheet.typed = { ...sheet.typed, nativeVersion: '−20', nativeInclination: '10,0' };
  sheet.measure = 'whole-face';
  return sheet;
}

describe('the sheet', () => {
  test('[IMP19] is missing what nobody typed, and takes it as people type it', () => {
    const sheet = new SheetModel();
    expect(sheet.isTouched).toBe(false);
    expect(sheet.missing).toEqual(['version measured', 'inclination measured', 'which inclination was measured']); // prettier-ignore
    expect(sheet.plan).toBeNull();
    expect(filled().plan).toMatchObject({
      nativeVersionDeg: -20,
      nativeInclinationDeg: 10,
      targetVersionDeg: 0,
      allowedErrorDeg: null,
    });
  });

  test('[IMP19] refuses what is no angle', () => {
    expect(['−20', '-20', '+7.5', '12,5°', '90', '-90', 'x', '', '1e1'].map(readDegrees)).toEqual([
      -20,
      -20,
      7.5,
      12.5,
      null,
      null,
      null,
      null,
      null,
    ]);
    const sheet = filled();
    sheet.typed = { ...sheet.typed, allowedError: '0' };
    expect(sheet.missing).toEqual(['error allowed']);
  });

  test('[IMP12] says 22.0° at about 9:48, and what 24° leaves', () => {
    const figures = filled().figures('right', shoulderPlate(), null);
    if (!figures) throw new Error('no figures');
    expect(neededToText(figures)).toBe('22.0° at about 9:48 (294.2° from up toward front)');
    const row = choiceRows(figures).find(([wedge]) => wedge?.startsWith('24°'));
    expect(row?.[0]).toContain('nearest');
    // 24 − 22.0200 by the table.
    expect(row?.[3]).toBe('2.0°, past it');
    expect(allowedToText(figures)).toBe('');
  });

  test('[IMP12] rounds a tolerance down', () => {
    const sheet = filled();
    sheet.typed = { ...sheet.typed, allowedError: '5' };
    const figures = sheet.figures('right', shoulderPlate(), 24);
    // 2·asin(sin 2.5° / sin 24°) = 12.3115 degrees.
    expect(figures && allowedToText(figures)).toContain('up to 12.3° off its mark');
  });
});

describe('the drawing', () => {
  test('[IMP20] has 3 o’clock to the right of the viewer and front by side', () => {
    expect(placeAt(180, 100).x).toBeCloseTo(100, 9);
    expect(placeAt(0, 100).y).toBeCloseTo(-100, 9);
    expect([namesOf('right').three, namesOf('left').nine]).toEqual(['front', 'front']);
  });

  test('[IMP20] the helper mark lies 180 degrees from the mark of greatest loss (common practice)', () => {
    for (const minutes of [0, 30, 359, 588, 719]) {
      const [mark, helper] = [placeAt(minutes, 50), placeAt(oppositeOf(minutes), 50)];
      expect(mark.x + helper.x).toBeCloseTo(0, 9);
      expect(mark.y + helper.y).toBeCloseTo(0, 9);
    }
  });

  test('[IMP20] the first hole lies under the thick side, wherever that is', () => {
    const [first] = holePlaces(540, [0, 90, 180, 270]);
    expect(first?.x).toBeLessThan(0);
    expect(first?.y).toBeCloseTo(0, 9);
  });

  test('[IMP20] says in words what it shows', () => {
    const face = {
      side: 'right', plannedMin: 588.37, markedMin: 600, isOffered: false, wedgeDeg: 24, isWedgeTaken: true,
      turnDeg: 5.8, allowedTurnDeg: null, holesDeg: [0], isNow: true,
    } as const; // prettier-ignore
    expect(faceToSentence(face)).toBe(
      'Socket of the right shoulder, seen from lateral, wedge 24°, planned at 9:48, marked at 10:00, 6° clockwise of the plan.',
    );
    expect([turnToText(-15), turnToText(0.2), minuteToText(719.8)]).toEqual([
      '15° anticlockwise of the plan', 'on the plan', '12:00',
    ]); // prettier-ignore
  });
});
