/**
 * What the screens ask of the program around them. src/main.ts gives the real
 * thing; tests give one that is moved by hand. Nothing here draws.
 */
import type {
  CaseId, CaseSetup, Entry, Fault, Outline, Result, SealReport, Stamp,
} from '../domain'; // prettier-ignore
import type { CaseDigest } from '../review';
import type { ProcedureCard, RunningCase } from '../session';
import type { KeepingServices } from './keeping-services';

/** How the wall hears at this moment. */
export interface EarStatus {
  readonly state: 'off' | 'starting' | 'listening' | 'hearing' | 'lost' | 'failed';
  readonly fault: Fault | null;
  /** Loudness of the last moment, in dB below full scale; null while off. */
  readonly levelDb: number | null;
  /** True while the wall speaks and does not listen. */
  readonly isGated: boolean;
}

/** One line of the list of cases on this machine. */
export interface CaseLine {
  readonly caseId: CaseId;
  readonly openedAt: number | null;
  readonly lastAt: number | null;
  readonly title: string | null;
  readonly side: 'left' | 'right' | null;
  readonly mode: 'real' | 'rehearsal' | 'demo' | null;
  readonly entryCount: number;
  readonly isClosed: boolean;
}

/** A case taken from the record to look back on. */
export interface CaseRecord {
  readonly entries: readonly Entry[];
  readonly outline: Outline;
  readonly setup: CaseSetup;
  /** Set where part of the record could not be read. */
  readonly problem: Fault | null;
  /** Whether the entries are as they were written. */
  readonly seal: SealReport;
}

/** How far a rehearsal has come. */
export interface RehearsalStatus {
  readonly isRunning: boolean;
  /** What is being said at this moment, as played to the listener. */
  readonly saying: string | null;
  readonly done: number;
  readonly total: number;
  readonly fault: Fault | null;
}

export interface AppServices {
  now(): Stamp;
  readonly procedures: readonly {
    readonly id: string;
    readonly title: string;
    readonly note: string;
  }[];
  describeProcedure(id: string): Result<ProcedureCard, Fault>;
  /** The case that all windows follow; null where none is open. */
  currentCase(): RunningCase | null;
  /** Called when the current case is another one; returns the function that ends it. */
  onCaseChange(callback: () => void): () => void;
  openCase(setup: CaseSetup): Promise<Result<void, Fault>>;
  /** Puts a closed case away, so that a new one can be set up. */
  leaveCase(): Promise<void>;
  listCases(): Promise<Result<readonly CaseLine[], Fault>>;
  readCase(caseId: CaseId): Promise<Result<CaseRecord, Fault>>;
  /** Closed cases of the same procedure and mode, for the forecast of the case that runs. */
  readHistory(running: RunningCase): Promise<Result<readonly CaseDigest[], Fault>>;
  exportCase(
    caseId: CaseId,
    kind: 'json' | 'entries-csv' | 'times-csv',
  ): Promise<Result<void, Fault>>;
  /** The record as a whole: room, files, old cases. */
  readonly keeping: KeepingServices;
  /** Whether this window writes the record or follows the one that does. */
  isWriter(): boolean;
  /** Why the record is not on disk, where it is not. */
  storageFault(): Fault | null;
  earStatus(): EarStatus;
  onEarChange(callback: () => void): () => void;
  startListening(): Promise<void>;
  stopListening(): Promise<void>;
  rehearsalStatus(): RehearsalStatus;
  onRehearsalChange(callback: () => void): () => void;
  /** Opens a rehearsal case and speaks it through the real listener. */
  startRehearsal(): Promise<Result<void, Fault>>;
  stopRehearsal(): Promise<void>;
}
