/**
 * The work behind the look back over many cases, as it runs in its worker. It joins the rooms
 * of that work: what is in hand (review-work), the cases (review-shelf), what the team typed
 * (review-notes), reading the record, adding invented cases, taking in files.
 */
import { err, fault, ok } from '../../domain';
import type { CaseId, Fault, Result } from '../../domain';
import { createSettings, openRecord } from '../../record';
import type { KeyRing, RecordStore, Settings } from '../../record';
import {
  casesToCsv, digestsToJson, filterCases, listChoices, lookBack, lookBeside, marksFor, phasesToCsv,
} from '../../review'; // prettier-ignore
import type {
  CaseFilter, ManyAnswer, ManyBeside, ManyQuestion, MarkedChange, RoomHours,
} from '../../review'; // prettier-ignore
import type { Brought, ManyFile, ManyState } from '../../ui';
import { CaseReader } from '../keeping/case-reader';
import { listGone } from './removed-cases';
import { addCases, playDemoMix } from './review-adding';
import type { DemoMix } from './review-adding';
import { bringFile } from './review-bringing';
import { ReviewNotes } from './review-notes';
import { readNewCases } from './review-reading';
import { ReviewShelf } from './review-shelf';
import { ReviewWork } from './review-work';
import type { WorkRun } from './review-work';

/** How often somebody is told how far it is: each time the charts are drawn anew. */
const TELL_EVERY_MS = 1000;
/** How often it is told while invented cases are added: as seldom as it is worth a new drawing. */
const TELL_EVERY_CASES = 10;

export class ReviewDesk {
  readonly #work = new ReviewWork();
  readonly #shelf: ReviewShelf;
  readonly #notes: ReviewNotes;
  readonly #reader = new CaseReader();
  #store: RecordStore | null = null;
  #saidAtMs = 0;

  /** `ring` opens cases and digests under the lock, as far as its window has. */
  constructor(
    private readonly tell: (state: ManyState) => void,
    private readonly ring: KeyRing,
    settings: Settings = createSettings(globalThis.indexedDB),
  ) {
    this.#shelf = new ReviewShelf(ring);
    this.#notes = new ReviewNotes(ring, settings);
  }

  /** Shows what is kept at once, then what the record has beyond it. */
  async load(): Promise<void> {
    // The screen was opened anew while cases are added or taken in: the record is read after that.
    if (this.#work.isChanging) {
      this.#say();
      return;
    }
    const run = this.#work.begin('reading', 0, async () => {
      await this.load();
      return ok(null);
    });
    this.#reader.begin();
    for (const unread of await this.#notes.load()) this.#say(unread);
    const lost = await this.#shelf.load();
    if (lost) this.#say(lost);
    if (!run.isOver) this.#say();
    this.#end(run, (await this.#dropRemoved()) ?? (await this.#readRecord(run)));
  }

  async #readRecord(run: WorkRun): Promise<Fault | null> {
    const aside = await this.#shelf.lookAside();
    if (aside) this.#say(aside);
    const store = await this.#open();
    if (!store.ok) return store.error;
    const { shelf, reader } = { shelf: this.#shelf, reader: this.#reader };
    const unread = await readNewCases(store.value, run, { shelf, reader, onCase: () => this.#sayNowAndThen() }); // prettier-ignore
    const unkept = await shelf.keepTable();
    return unread ?? unkept ?? (run.isOver ? null : reader.tellUnread());
  }

  /** Says that something went wrong that no answer can say. */
  report(problem: Fault): void {
    this.#say(problem);
  }

  /** Stops what is in hand; what was read or added so far stays, of a file nothing is taken in. */
  cancel(): void {
    if (this.#work.stop()) this.#say();
  }

  /** Goes on with what was stopped. */
  async resume(): Promise<Result<Brought | null, Fault>> {
    return (await this.#work.again?.()) ?? ok(null);
  }

  look(question: ManyQuestion): ManyAnswer {
    return lookBack(this.#shelf.table, question, this.#notes.marks);
  }

  lookBeside(question: ManyQuestion): ManyBeside {
    return lookBeside(this.#shelf.table, question, offsetAt);
  }

  async file(filter: CaseFilter, file: ManyFile): Promise<string> {
    const { table } = this.#shelf;
    const kept = await this.#shelf.readAll();
    const cases = filterCases(table, filter).flatMap((row) => {
      const caseId = table.caseIds[row];
      return (caseId && kept.get(caseId)) ?? [];
    });
    if (file === 'cases-csv') return casesToCsv(cases);
    if (file === 'phases-csv') return phasesToCsv(cases);
    const { marks, hours } = this.#notes;
    const shown = marks.filter((mark) => marksFor([{ ...mark, key: null }], filter, null).length > 0); // prettier-ignore
    return digestsToJson(cases, shown, hours);
  }

  /** Takes in a file of another machine: all of its cases or, where the fault says so or it was stopped (null), none. */
  bring(text: string): Promise<Result<Brought | null, Fault>> {
    return this.#bring(text, false);
  }

  /** `hasOvertaken`: reading the record gave way to it before it was stopped. */
  async #bring(text: string, hasOvertaken: boolean): Promise<Result<Brought | null, Fault>> {
    const { progress, isChanging } = this.#work;
    if (isChanging) return err(fault('review-busy', { kind: progress?.kind ?? '' }));
    const isOvertaking = hasOvertaken || progress !== null;
    const run = this.#work.begin('bringing', 0, () => this.#bring(text, isOvertaking));
    this.#say();
    const brought = await bringFile(text, run, {
      shelf: this.#shelf,
      notes: this.#notes,
      listGone: () => this.#listGone(),
      onStep: () => {
        this.#say();
      },
    });
    const aside = await this.#shelf.lookAside();
    this.#shelf.renew();
    const wasStopped = run.isOver;
    this.#end(run, aside);
    // What it has overtaken goes on, and what was set aside is read from the record anew.
    if (!wasStopped && (isOvertaking || aside)) void this.#readOn();
    return brought;
  }

  async #readOn(): Promise<void> {
    try {
      await this.load();
    } catch (cause) {
      this.report(fault('review-failed', { detail: String(cause) }));
    }
  }

  /** Plays invented cases into the record. Those that are there already stay as they are. */
  async addDemo(count: number): Promise<Fault | null> {
    const played = playDemoMix(count);
    return played.ok ? this.#add(played.value) : played.error;
  }

  async #add(rest: DemoMix): Promise<Fault | null> {
    const { progress, isChanging } = this.#work;
    if (isChanging) return fault('review-busy', { kind: progress?.kind ?? '' });
    const store = await this.#open();
    if (!store.ok) return store.error;
    const run = this.#work.begin('adding', rest.total, async () => {
      const unadded = await this.#add(rest);
      return unadded ? err(unadded) : ok(null);
    });
    run.reach(rest.done, rest.total);
    this.#say();
    const unadded = await addCases(store.value, rest, run, {
      shelf: this.#shelf,
      reader: this.#reader,
      onCase: (done) => {
        if (done % TELL_EVERY_CASES === 0) this.#say();
      },
    });
    const wasStopped = run.isOver;
    run.end();
    // The case that was on its way when it was stopped is there too.
    this.#say();
    if (!wasStopped && !unadded) await this.load();
    return unadded;
  }

  /** Marks changes, each once. */
  mark(marks: readonly MarkedChange[]): Promise<Fault | null> {
    return this.#note(this.#notes.mark(marks));
  }

  /** Takes a mark back. */
  unmark(mark: MarkedChange): Promise<Fault | null> {
    return this.#note(this.#notes.unmark(mark));
  }

  /** Keeps resource hours for the next visit; the question that was asked with them needs no other answer. */
  keepHours(hours: RoomHours): Promise<Fault | null> {
    return this.#notes.keepHours(hours);
  }

  /** Lets go of damaged parts that were set aside. */
  async forgetAside(): Promise<Fault | null> {
    const unforgotten = await this.#shelf.forgetAside();
    this.#say();
    return unforgotten;
  }

  /** What was noted counts at once, and before it is kept. */
  async #note(keeping: Promise<Fault | null>): Promise<Fault | null> {
    this.#shelf.renew();
    this.#say();
    return keeping;
  }

  async #listGone(): Promise<Result<ReadonlySet<CaseId>, Fault>> {
    const store = await this.#open();
    return store.ok ? listGone(store.value) : store;
  }

  /** A case that was removed from the record leaves the look back as well. */
  async #dropRemoved(): Promise<Fault | null> {
    const gone = await this.#listGone();
    return gone.ok ? this.#shelf.drop(gone.value) : gone.error;
  }

  async #open(): Promise<Result<RecordStore, Fault>> {
    if (!this.#store) {
      const opened = await openRecord(globalThis.indexedDB, this.ring);
      if (opened.fault) return err(opened.fault);
      this.#store = opened.store;
    }
    return ok(this.#store);
  }

  /** The end of a run; of one that was stopped or overtaken only what went wrong is said. */
  #end(run: WorkRun, problem: Fault | null): void {
    if (run.isOver && !problem) return;
    run.end();
    this.#say(problem);
  }

  #sayNowAndThen(): void {
    if (performance.now() - this.#saidAtMs >= TELL_EVERY_MS) this.#say();
  }

  #say(problem: Fault | null = null): void {
    this.#saidAtMs = performance.now();
    const { table, revision, aside } = this.#shelf;
    const { progress, stopped } = this.#work;
    this.tell({
      progress,
      stopped,
      fault: problem,
      caseCount: table.count,
      unreadCount: this.#reader.unreadCount,
      aside,
      hours: this.#notes.hours,
      choices: listChoices(table),
      revision,
    });
  }
}

/** Local time minus UTC at a moment, in minutes: of the machine that looks back. */
function offsetAt(at: number): number {
  return -new Date(at).getTimezoneOffset();
}
