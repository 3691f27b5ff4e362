/**
 * What the screens draw of the planning sheet, the packs in the room and what does
 * not agree yet. Figures follow from what was typed in; they are no plan.
 */
import type { AnglePlan, LabelData, OperatorText, PackEvent, Side } from '../../domain';
import type { Placed, PlanFigures } from '../../sizing';

/** One finding in words, and whether it stops the pack. */
export interface FindingView {
  readonly code: string;
  readonly text: OperatorText;
  readonly weight: 'stop' | 'ask';
}

export interface PackView {
  readonly id: string;
  readonly title: string;
  /** The place that it takes; empty where nothing asks for it. */
  readonly place: string;
  readonly state: 'scanned' | PackEvent;
  readonly reason: string;
  readonly scans: number;
  readonly findings: readonly FindingView[];
  readonly isStopped: boolean;
  /** The catalogue does not know its number yet. */
  readonly isUnknown: boolean;
  readonly label: LabelData;
}

export interface ArticleView {
  readonly id: string;
  readonly title: string;
  /** How many are in the room; null where nobody counted. */
  readonly count: number | null;
}

/** The socket's face as the wall and the sheet draw it. Directions in minutes past twelve. */
export interface FaceView {
  readonly side: Side;
  /** From the angles of the sheet, not rounded; without them the direction of the size plan. */
  readonly plannedMin: number | null;
  /** Confirmed in the case. */
  readonly markedMin: number | null;
  /** The mark is read back and not confirmed yet. */
  readonly isOffered: boolean;
  /** The wedge taken, else the one planned; null where neither is known. */
  readonly wedgeDeg: number | null;
  readonly isWedgeTaken: boolean;
  /** How far the mark lies off the planned direction, clockwise positive; null without both. */
  readonly turnDeg: number | null;
  readonly allowedTurnDeg: number | null;
  readonly holesDeg: readonly number[];
  /** A step runs at which the wall shows it. */
  readonly isNow: boolean;
}

export interface DifferenceView {
  readonly label: string;
  readonly planned: string;
  readonly settled: string;
}

export interface ImplantsView {
  /** Null where the procedure has no catalogue of implants. */
  readonly catalogue: string | null;
  readonly plan: AnglePlan | null;
  readonly figures: PlanFigures | null;
  /** What the wedge taken in the direction marked makes; null before both are known. */
  readonly placed: Placed | null;
  readonly face: FaceView | null;
  readonly packs: readonly PackView[];
  /** The pack of the latest scan. */
  readonly lastScan: string | null;
  /** Confirmed, and no pack of it was opened. */
  readonly notScanned: readonly string[];
  /** Opened or implanted, and not what is confirmed. */
  readonly notConfirmed: readonly string[];
  /** Opened, and nobody has said what became of it. */
  readonly unsettled: readonly string[];
  /** Likely next, counted, and not in the room. */
  readonly shortages: readonly {
    readonly title: string;
    readonly place: string;
    readonly isConfirmed: boolean;
  }[];
  /** Sterile implants of the catalogue, for this side. */
  readonly articles: readonly ArticleView[];
  /** Sizes planned beforehand. */
  readonly planned: readonly { readonly label: string; readonly text: string }[];
  readonly differences: readonly DifferenceView[];
}
