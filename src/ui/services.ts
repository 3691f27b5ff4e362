/**
 * What the screens ask of the program around them. src/main.ts gives the real
 * thing; tests give one that is moved by hand. Nothing here draws.
 */
import type {
  AnglePlan, CardLearning, CaseId, CaseSetup, Entry, Fault, Outline, ProcedureId, Result, SealReport, SoundReading, Stamp,
} from '../domain'; // prettier-ignore
import type {
  CaseDigest, CaseFilter, FilterChoices, ManyAnswer, ManyBeside, ManyQuestion, MarkedChange, RoomHours,
} from '../review'; // prettier-ignore
import type { ProcedureCard, RunningCase } from '../session';
import type { KeepingServices } from './keeping-services';
import type { ProcedureShelf } from './procedure-services';
import type { LabelServices } from './label-services';
import type { CardServices } from './card-services';
import type { VoiceServices } from './voice-services';

/** How the wall hears at this moment. */
export interface EarStatus {
  readonly state: 'off' | 'starting' | 'listening' | 'hearing' | 'lost' | 'failed';
  readonly fault: Fault | null;
  /** Loudness of the last moment, in dB below full scale; null while off. */
  readonly levelDb: number | null;
  /** What the microphone gives and how well that can be heard; null while off. */
  readonly reading: SoundReading | null;
  /** True while the wall speaks and does not listen. */
  readonly isGated: boolean;
  /** True while a key or pedal would have to be pressed to be heard. */
  readonly isShut: boolean;
  /** How far the voice cards are learnt; left out while none was begun. */
  readonly learning?: CardLearning;
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

/** A long work of the look back and how far it is. `total` is 0 before it was counted; of a file that is taken in it counts steps. */
export interface WorkProgress {
  readonly kind: 'reading' | 'adding' | 'bringing';
  readonly done: number;
  readonly total: number;
}

/** Damaged parts of what the look back keeps, which lie aside. */
export interface PartsAside {
  readonly parts: number;
  /** How many cases they were of; null where that is not known. */
  readonly cases: number | null;
}

/** What there is to look back on, and how far the reading of it has come. */
export interface ManyState {
  readonly caseCount: number;
  /** Closed cases of the record that could not be read: they are in no figure. */
  readonly unreadCount: number;
  readonly choices: FilterChoices;
  /** Another one whenever the same question may have another answer. */
  readonly revision: number;
  /** Damaged parts of what is kept, set aside; null where there are none. */
  readonly aside: PartsAside | null;
  /** Resource hours as they are kept on this machine; null where none were typed. */
  readonly hours: RoomHours | null;
  /** Null while nothing is in hand. */
  readonly progress: WorkProgress | null;
  /** How far it was when it was stopped; null where it was not. */
  readonly stopped: WorkProgress | null;
  readonly fault: Fault | null;
}

/** What became of a file of another machine that was taken in. */
export interface Brought {
  readonly added: number;
  /** Cases that were here already, as far as the file has them. */
  readonly known: number;
  /** Cases of which the file had more than was here. */
  readonly renewed: number;
  /** Resource hours of the file, where none were typed here and they count from now on. */
  readonly hours: RoomHours | null;
  /** What should be known besides: cases that stay out, marks that could not be kept. */
  readonly remarks: readonly Fault[];
}

export type ManyFile = 'cases-csv' | 'phases-csv' | 'json';

/** The look back over many cases; the work is done beside the screen. */
export interface ManyCasesService {
  /** Begins to read and tells how far it is; returns the function that ends it. */
  watch(callback: (state: ManyState) => void): () => void;
  /** Stops what is in hand; what was read or added stays, of a file nothing is taken in. */
  cancel(): void;
  /** Goes on with what was stopped; what a file brought where it was one, else null. */
  resume(): Promise<Result<Brought | null, Fault>>;
  look(question: ManyQuestion): Promise<Result<ManyAnswer, Fault>>;
  /** Rooms, named times, holds and speech of the same question: what stands below the charts. */
  lookBeside(question: ManyQuestion): Promise<Result<ManyBeside, Fault>>;
  save(filter: CaseFilter, file: ManyFile): Promise<Fault | null>;
  /** Takes in a file of another machine; a fault, and null where it was stopped, say that nothing of it was taken in. */
  bring(text: string): Promise<Result<Brought | null, Fault>>;
  /** Keeps a marked change for the next visit, in the files for other machines too. */
  mark(mark: MarkedChange): Promise<Fault | null>;
  unmark(mark: MarkedChange): Promise<Fault | null>;
  /** Keeps resource hours for the next visit, in the files for other machines too. */
  keepHours(hours: RoomHours): Promise<Fault | null>;
  /** Lets go of damaged parts that were set aside. */
  forgetAside(): Promise<Fault | null>;
  /** Adds invented cases, marked as demo. */
  addDemo(): Promise<Fault | null>;
}

export interface AppServices {
  readonly manyCases: ManyCasesService;
  readonly labels: LabelServices;
  /** How the wall speaks, and what it listens to. */
  readonly voice: VoiceServices;
  /** The voice cards of this machine. */
  readonly cards: CardServices;
  now(): Stamp;
  /** The procedures that a case can be set up with: built-in ones, then those brought here. */
  readonly procedures: readonly {
    readonly id: string;
    readonly title: string;
    readonly note: string;
  }[];
  readonly shelf: ProcedureShelf;
  describeProcedure(id: string): Result<ProcedureCard, Fault>;
  /** The case that all windows follow; null where none is open. */
  currentCase(): RunningCase | null;
  /** Called when the current case is another one; returns the function that ends it. */
  onCaseChange(callback: () => void): () => void;
  /** Opens a case, with its planning sheet where one was typed. */
  openCase(setup: CaseSetup, sheet: AnglePlan | null): Promise<Result<void, Fault>>;
  /** Puts a closed case away, so that a new one can be set up. */
  leaveCase(): Promise<void>;
  /** The latest so many, newest first. */
  listCases(latest: number): Promise<Result<readonly CaseLine[], Fault>>;
  readCase(caseId: CaseId): Promise<Result<CaseRecord, Fault>>;
  /**
   * Other closed cases of the same procedure and mode: for the forecast of a case that runs, and for
   * the usual times beside one that is looked back on, whose procedure is named.
   */
  readHistory(of: {
    readonly view: RunningCase['view'];
    readonly procedureId?: ProcedureId;
  }): Promise<Result<readonly CaseDigest[], Fault>>;
  exportCase(
    caseId: CaseId,
    kind: 'json' | 'entries-csv' | 'times-csv' | 'fhir',
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
