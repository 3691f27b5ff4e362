/**
 * The planning sheet while it is being typed. The same at set-up and at the desk; what
 * is typed becomes the sheet of the case only when somebody keeps it. No field has a
 * default but the target: nobody shall plan on an angle that nobody measured.
 */
import { INCLINATION_MEASURES } from '../../domain';
import type { AnglePlan, InclinationMeasure, Side } from '../../domain';
import { checkOrientation, plateWidthMm, workOutPlan } from '../../sizing';
import type { PlanFigures, SocketPlate } from '../../sizing';
import type { FaceView } from '../../session';

/** The numbers that are typed, in the order in which they stand. */
export const SHEET_FIELDS = [
  { key: 'nativeVersion', label: 'Version measured', hint: 'retroversion negative' },
  { key: 'nativeInclination', label: 'Inclination measured', hint: 'upward positive' },
  { key: 'targetVersion', label: 'Target version', hint: '' },
  { key: 'targetInclination', label: 'Target inclination', hint: 'in the same measure' },
  { key: 'allowedError', label: 'Error allowed', hint: 'the team’s own; may stay empty' },
] as const;
type FieldKey = (typeof SHEET_FIELDS)[number]['key'];

export class SheetModel {
  typed = $state<Record<FieldKey, string>>({
    nativeVersion: '',
    nativeInclination: '',
    targetVersion: '0',
    targetInclination: '0',
    allowedError: '',
  });
  measure = $state<InclinationMeasure | ''>('');
  wear = $state('');

  /** What was kept last, or what the sheet began with. */
  #kept = '';

  constructor(plan: AnglePlan | null = null) {
    if (plan) this.#fill(plan);
    this.markKept();
  }

  #fill(plan: AnglePlan): void {
    this.typed = {
      nativeVersion: String(plan.nativeVersionDeg),
      nativeInclination: String(plan.nativeInclinationDeg),
      targetVersion: String(plan.targetVersionDeg),
      targetInclination: String(plan.targetInclinationDeg),
      allowedError: plan.allowedErrorDeg === null ? '' : String(plan.allowedErrorDeg),
    };
    this.measure = plan.measure;
    this.wear = plan.wear;
  }

  /** Whether anything was typed since it was begun or kept; an untouched sheet is no plan. */
  get isTouched(): boolean {
    return this.#text() !== this.#kept;
  }

  /** What is typed now is kept. */
  markKept(): void {
    this.#kept = this.#text();
  }

  #text(): string {
    return JSON.stringify([this.typed, this.measure, this.wear]);
  }

  /** What is missing or can't be an angle, in words; empty where the sheet can be kept. */
  get missing(): readonly string[] {
    const wrong = SHEET_FIELDS.filter(({ key }) => {
      if (key === 'allowedError' && this.typed[key].trim() === '') return false;
      const value = readDegrees(this.typed[key]);
      return value === null || (key === 'allowedError' && !(value > 0 && value < 90));
    }).map(({ label }) => label.toLowerCase());
    return this.measure === '' ? [...wrong, 'which inclination was measured'] : wrong;
  }

  /** The sheet as it would be kept; null while something is missing. */
  get plan(): AnglePlan | null {
    const measure = INCLINATION_MEASURES.find((one) => one === this.measure);
    if (this.missing.length > 0 || measure === undefined) return null;
    const value = (key: FieldKey) => readDegrees(this.typed[key]) ?? 0;
    return {
      measure,
      nativeVersionDeg: value('nativeVersion'),
      nativeInclinationDeg: value('nativeInclination'),
      targetVersionDeg: value('targetVersion'),
      targetInclinationDeg: value('targetInclination'),
      wear: this.wear.trim(),
      allowedErrorDeg: readDegrees(this.typed.allowedError),
    };
  }

  /** The figures of what is typed now; null while something is missing. */
  figures(side: Side, plate: SocketPlate, taken: number | null): PlanFigures | null {
    const { plan } = this;
    return plan && workOutPlan(plan, side, plate.wedgesDeg, plateWidthMm(plate, undefined), taken);
  }
}

/** The socket's face before a case is open: what was planned, and no mark yet. */
export function plannedFace(
  side: Side,
  plate: SocketPlate,
  figures: PlanFigures,
  wedgeDeg: number | null,
): FaceView {
  const { allowed, thickMin } = figures;
  return {
    side,
    plannedMin: thickMin,
    markedMin: null,
    isOffered: false,
    wedgeDeg: wedgeDeg ?? (figures.wedgeDeg || null),
    isWedgeTaken: false,
    turnDeg: null,
    allowedTurnDeg: allowed && allowed.turnDeg,
    holesDeg: plate.holesDeg,
    isNow: false,
  };
}

/** Degrees as people type them, with a minus of any kind and a comma; null where it is no angle. */
export function readDegrees(text: string): number | null {
  const plain = text.trim().replace(/^[−–]/, '-').replace(',', '.').replace(/°$/, '');
  if (!/^[-+]?\d+(\.\d+)?$/.test(plain)) return null;
  const value = Number(plain);
  return checkOrientation({ versionDeg: value, inclinationDeg: 0 }).ok ? value : null;
}
