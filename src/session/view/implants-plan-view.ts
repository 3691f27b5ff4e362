/** The planning sheet's figures and the socket's face, from what was typed and confirmed. */
import type { CaptureValue } from '../../domain';
import { contextOf, positionOf } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import {
  plateWidthMm, socketPlateOf, turnAllowed, turnBetween, workOutPlaced, workOutPlan,
} from '../../sizing'; // prettier-ignore
import type { Catalogue } from '../../sizing';
import type { CaseFacts } from '../case-facts';
import type { FaceView, ImplantsView } from './view-implants';

const asNumber = (value: CaptureValue | undefined): number | null =>
  typeof value === 'number' ? value : null;

/** Sizes of the case that the drawing and the figures are about. */
function readChosen(compiled: CompiledProcedure, facts: CaseFacts, catalogue: Catalogue | null) {
  const plate = catalogue && socketPlateOf(catalogue);
  const { confirmed, offered } = contextOf(facts.state);
  const planned: Readonly<Record<string, CaptureValue>> = facts.setup?.plan ?? {};
  const direction = [...compiled.captures.values()].find(({ kind }) => kind === 'clock')?.id;
  const at = (values: Readonly<Record<string, CaptureValue>>, id: string | null | undefined) =>
    id === null || id === undefined ? undefined : values[id];
  const isOffered = direction !== undefined && offered?.capture === direction;
  return {
    plate,
    isOffered,
    takenDeg: asNumber(at(confirmed, plate?.wedgeCapture)),
    plannedDeg: asNumber(at(planned, plate?.wedgeCapture)),
    plannedMin: asNumber(at(planned, direction)),
    markedMin: isOffered
      ? asNumber(offered.value ?? undefined)
      : asNumber(at(confirmed, direction)),
    width: at(confirmed, plate?.widthCapture) ?? at(planned, plate?.widthCapture),
  };
}

/** The figures of the sheet. */
export function viewPlan(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  catalogue: Catalogue | null,
): Pick<ImplantsView, 'plan' | 'figures' | 'placed'> {
  const { plan } = facts.implants;
  const chosen = readChosen(compiled, facts, catalogue);
  const { plate, takenDeg, plannedDeg, markedMin, isOffered } = chosen;
  if (!plan || !plate) return { plan, figures: null, placed: null };
  const side = facts.setup?.side ?? 'right';
  const width = plateWidthMm(plate, chosen.width);
  return {
    plan,
    figures: workOutPlan(plan, side, plate.wedgesDeg, width, takenDeg ?? plannedDeg),
    placed:
      takenDeg === null || markedMin === null || isOffered
        ? null
        : workOutPlaced(plan, side, takenDeg, markedMin),
  };
}

/** The face of the socket; null where the family has no wedge on it. */
export function viewFace(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  catalogue: Catalogue | null,
): FaceView | null {
  const chosen = readChosen(compiled, facts, catalogue);
  const { plate, takenDeg, plannedDeg, markedMin, isOffered } = chosen;
  if (!plate || !catalogue) return null;
  const { figures } = viewPlan(compiled, facts, catalogue);
  const plannedMin = figures?.thickMin ?? chosen.plannedMin;
  const wedgeDeg = takenDeg ?? plannedDeg ?? (figures?.wedgeDeg || null);
  return {
    side: facts.setup?.side ?? 'right',
    plannedMin,
    markedMin,
    isOffered,
    wedgeDeg,
    isWedgeTaken: takenDeg !== null,
    turnDeg: plannedMin === null || markedMin === null ? null : turnBetween(plannedMin, markedMin),
    allowedTurnDeg: allowTurn(wedgeDeg, facts.implants.plan?.allowedErrorDeg ?? null),
    holesDeg: plate.holesDeg,
    isNow: isFaceStep(compiled, facts, catalogue),
  };
}

function allowTurn(wedgeDeg: number | null, errorDeg: number | null): number | null {
  return wedgeDeg === null || errorDeg === null ? null : turnAllowed(wedgeDeg, errorDeg);
}

/** Whether the step in hand of the first track is one that the catalogue names. */
function isFaceStep(
  compiled: CompiledProcedure,
  { state }: CaseFacts,
  { faceSteps }: Catalogue,
): boolean {
  const [main] = compiled.tracks;
  const position = main && positionOf(compiled, state, main);
  return position !== undefined && position.kind !== 'done' && faceSteps.includes(position.step.id);
}
