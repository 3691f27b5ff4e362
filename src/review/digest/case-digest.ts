/**
 * One case in a few hundred numbers: what the look back over many cases, the forecast
 * and the tables need of it, without its entries. A digest can always be made again
 * from the record; it is a cache and the unit of the review's own exports.
 */
import type {
  CaseId,
  CaseMode,
  Milestone,
  PhaseId,
  ProcedureId,
  Side,
  TrackId,
} from '../../domain';

/** Raised whenever the same entries would give another digest; older ones are made again. */
export const DIGEST_VERSION = 8;

/** One phase of one track. Durations in milliseconds. */
export interface PhaseDigest {
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly title: string;
  /** From the opening of the case. */
  readonly fromMs: number;
  /** From first step to last, waiting and held clock included. */
  readonly totalMs: number;
  readonly workMs: number;
  readonly waitMs: number;
  readonly heldMs: number;
  /** From its first step to the first step of the next phase of its track, cut where a loop went back: first pass, second pass, and so on. */
  readonly passesMs: readonly number[];
  readonly usualMs: number | null;
  /** False where it was left out, cut short or taken from the wall clock: no measure of how long it takes. */
  readonly isWhole: boolean;
  /** `cut` where a part was left out or something cut it short, `open` while it goes on. Missing before version 6. */
  readonly ending?: 'done' | 'cut' | 'open';
  /** Whether a restart lies inside, so that the wall clock had to be used. Missing before version 6. */
  readonly isEstimated?: boolean;
}

/** How often a phrase of a person was taken right at the first attempt. */
export interface SpeechDigest {
  /** The label of the voice card that the wall heard with just then, of several all; "unknown" without one. */
  readonly person: string;
  /** What it was about: the capture by its label, or the words of a command. */
  readonly phrase: string;
  readonly attempts: number;
  readonly first: number;
}

export interface CaseDigest {
  readonly version: number;
  readonly caseId: CaseId;
  readonly mode: CaseMode;
  readonly procedureId: ProcedureId;
  readonly procedure: string;
  readonly side: Side;
  /** What the theatre was called at set-up; null where nothing was typed. Missing before version 8. */
  readonly theatre?: string | null;
  /** Role labels, "surgeon A". */
  readonly roles: readonly string[];
  readonly openedAt: number;
  readonly closedAt: number | null;
  readonly outcome: string | null;
  readonly totalMs: number;
  readonly isEstimated: boolean;
  readonly entryCount: number;
  /** Whether the wall heard with one for the whole case or a part of it. */
  readonly hasVoiceCards: boolean;
  /** Alternatives taken, by their label. */
  readonly alternatives: readonly string[];
  readonly phases: readonly PhaseDigest[];
  readonly holds: readonly { readonly reason: string; readonly ms: number }[];
  /** Hold points that were passed, by what they are called. */
  readonly overrides: readonly { readonly holdPoint: string; readonly reason: string }[];
  /** Orders refused at a hold point, by what it is called. */
  readonly refusedAt: readonly string[];
  readonly readBacks: {
    readonly offered: number;
    readonly confirmed: number;
    readonly corrected: number;
    readonly lapsed: number;
  };
  readonly speech: readonly SpeechDigest[];
  /** Wall times of the named times; of several marks the last one. */
  readonly named: Readonly<Partial<Record<Milestone, number>>>;
}
