/**
 * The work behind the look back over many cases, as it runs in its worker: reads what
 * is kept, then looks in the record for closed cases that are new, a few at a time, so
 * that a question is answered in between and all of it can be stopped.
 */
import { err, fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Result } from '../domain';
import { openRecord } from '../record';
import type { KeyRing, RecordStore } from '../record';
import {
  CaseTable, casesToCsv, digestsToJson, filterCases, listChoices, lookBack, lookBeside,
  marksFor, markToKey, mergeDigests, mergeMarks, phasesToCsv, readReviewFile, readReviewMarks,
} from '../review'; // prettier-ignore
import type {
  CaseDigest,
  CaseFilter,
  ManyAnswer,
  ManyBeside,
  ManyQuestion,
  MarkedChange,
} from '../review';
import { describeBuiltIn, makeDemoCases } from '../session';
import type { Brought, ManyFile, ManyState } from '../ui';
import { CaseReader } from './case-reader';
import { DigestStore, PIECE } from './digest-store';
import { MarkStore } from './mark-store';
import { listGone } from './removed-cases';

/** How often somebody is told how far it is: each time the charts are drawn anew. */
const TELL_EVERY_MS = 1000;
/** The procedure that demo cases are cases of, when they begin, and what changes in them: one phase, 15 % longer. */
const DEMO = {
  procedure: 'reverse-shoulder-glenoid',
  seed: 7,
  firstAt: Date.UTC(2026, 0, 5, 7, 30),
  shift: { phase: 'reaming', factor: 1.15 },
};

export class ReviewDesk {
  #table = new CaseTable();
  /** Counts what was taken in. */
  #revision = 0;
  readonly #kept: DigestStore;
  readonly #marks: MarkStore;
  #marked: readonly MarkedChange[] = [];
  /** Digests that could not be kept. */
  #loose: readonly CaseDigest[] = [];
  readonly #reader = new CaseReader();
  #store: RecordStore | null = null;
  #run = 0;
  /** How far the work in hand is; null while there is none. */
  #at: ManyState['progress'] = null;
  #stopped: ManyState['progress'] = null;
  /** How many invented cases were being added when it was stopped; 0 where it read the record. */
  #demoCount = 0;
  #saidAtMs = 0;

  /** `ring` opens cases and digests under the lock, as far as its window has. */
  constructor(
    private readonly tell: (state: ManyState) => void,
    private readonly ring: KeyRing,
  ) {
    this.#kept = new DigestStore(ring);
    this.#kept.prepare();
    this.#marks = new MarkStore(ring);
  }

  /** Shows what is kept at once, then what the record has beyond it. */
  async load(): Promise<void> {
    if (this.#at && this.#demoCount > 0) {
      // The screen was opened anew while cases are added: the record is read when they are.
      this.#say(this.#at);
      return;
    }
    const mine = ++this.#run;
    this.#reader.begin();
    this.#demoCount = 0;
    this.#begin({ done: 0, total: 0 });
    await this.#readMarks();
    try {
      this.#table = await this.#kept.readTable();
      this.#revision += 1;
    } catch (cause) {
      // Only a cache: the record itself is read below.
      this.#say(null, cacheLost(cause));
    }
    if (mine === this.#run) this.#say(this.#at);
    const lost = await this.#dropRemoved();
    if (lost) {
      this.#end(mine, lost);
      return;
    }
    let problem = await this.#readRecord(mine);
    if (this.#kept.isPartial) problem ??= fault('review-kept-unreadable');
    try {
      await this.#kept.keepTable(this.#table);
    } catch (cause) {
      problem ??= cacheLost(cause);
    }
    this.#end(mine, problem ?? (mine === this.#run ? this.#reader.tellUnread() : null));
  }

  /** Says that something went wrong that no answer can say. */
  report(problem: Fault): void {
    this.#say(null, problem);
  }

  /** Stops what is in hand; what was read or added so far stays. */
  cancel(): void {
    if (!this.#at) return;
    this.#run += 1;
    this.#stopped = this.#at;
    this.#at = null;
    this.#say(null);
  }

  /** Goes on with what was stopped. */
  async resume(): Promise<Fault | null> {
    if (this.#demoCount > 0) return this.addDemo(this.#demoCount);
    await this.load();
    return null;
  }

  #begin(progress: ManyState['progress']): void {
    this.#at = progress;
    this.#stopped = null;
  }

  /** The end of a run; of one that was stopped or overtaken only what went wrong is said. */
  #end(mine: number, problem: Fault | null): void {
    if (mine === this.#run) this.#at = null;
    else if (!problem) return;
    this.#say(this.#at, problem);
  }

  look(question: ManyQuestion): ManyAnswer {
    return lookBack(this.#table, question, this.#marked);
  }

  lookBeside(question: ManyQuestion): ManyBeside {
    return lookBeside(this.#table, question, offsetAt);
  }

  async file(filter: CaseFilter, file: ManyFile): Promise<string> {
    const kept = await this.#allDigests();
    const cases = filterCases(this.#table, filter).flatMap((row) => {
      const caseId = this.#table.caseIds[row];
      return (caseId && kept.get(caseId)) ?? [];
    });
    return file === 'cases-csv'
      ? casesToCsv(cases)
      : file === 'phases-csv'
        ? phasesToCsv(cases)
        : digestsToJson(cases, this.#marked.filter((mark) => marksFor([{ ...mark, key: null }], filter, null).length > 0)); // prettier-ignore
  }

  /**
   * Takes in a file of another machine: all of its cases or, where the fault says so, none.
   * Nothing that is kept goes before what stands in its place is kept.
   */
  async bring(text: string): Promise<Result<Brought, Fault>> {
    const read = readReviewFile(text);
    if (!read.ok) return read;
    const marks = readReviewMarks(text);
    if (!marks.ok) return marks;
    const gone = await this.#listGone();
    if (!gone.ok) return gone;
    const wanted = read.value.filter(({ caseId }) => !gone.value.has(caseId));
    const merged = await this.#takeIn(wanted);
    if (!merged.ok) return merged;
    const { added, same } = merged.value;
    const stayOut = read.value.length - wanted.length;
    const unkept = await this.mark(marks.value);
    const remarks = [
      ...(stayOut > 0 ? [fault('review-cases-removed', { count: String(stayOut) })] : []),
      ...(unkept ? [unkept] : []),
    ];
    return ok({ added, known: same, renewed: wanted.length - added - same, remarks });
  }

  async #takeIn(
    wanted: readonly CaseDigest[],
  ): Promise<Result<ReturnType<typeof mergeDigests>, Fault>> {
    try {
      const known = [...(await this.#allDigests()).values()];
      if (this.#kept.isPartial) return err(fault('review-kept-unreadable'));
      const merged = mergeDigests(known, wanted);
      await this.#kept.replace(merged.digests);
      const before = new Set(known);
      // What was read from the record meanwhile stays in both.
      this.#loose = this.#loose.filter((digest) => !before.has(digest));
      for (const digest of merged.digests) if (!before.has(digest)) this.#table.add(digest);
      this.#revision += 1;
      return ok(merged);
    } catch (cause) {
      return err(fault('review-file-not-kept', { detail: String(cause) }));
    } finally {
      this.#say(null);
    }
  }

  async #listGone(): Promise<Result<ReadonlySet<CaseId>, Fault>> {
    const store = await this.#open();
    return store.ok ? listGone(store.value) : store;
  }

  /** A case that was removed from the record leaves the look back as well. */
  async #dropRemoved(): Promise<Fault | null> {
    const found = await this.#listGone();
    if (!found.ok) return found.error;
    const gone = found.value;
    if (![...gone].some((caseId) => this.#table.has(caseId))) return null;
    this.#revision += 1;
    this.#loose = this.#loose.filter(({ caseId }) => !gone.has(caseId));
    try {
      await this.#kept.drop(gone);
      this.#table = CaseTable.of([...(await this.#allDigests()).values()]);
      return null;
    } catch (cause) {
      // They must not be seen, even while what is kept of them can't be changed.
      this.#table = new CaseTable();
      return cacheLost(cause);
    }
  }

  /** Marks changes, each once; one that can't be kept splits the charts as long as this visit lasts. */
  async mark(marks: readonly MarkedChange[]): Promise<Fault | null> {
    this.#marked = mergeMarks(this.#marked, marks);
    return this.#changeMarks(() => this.#marks.add(marks));
  }

  /** Takes a mark back. */
  async unmark(mark: MarkedChange): Promise<Fault | null> {
    const key = markToKey(mark);
    this.#marked = this.#marked.filter((it) => markToKey(it) !== key);
    return this.#changeMarks(() => this.#marks.remove(mark));
  }

  async #changeMarks(keep: () => Promise<void>): Promise<Fault | null> {
    this.#revision += 1;
    this.#say(null);
    try {
      await keep();
      return null;
    } catch (cause) {
      return fault('change-marks-not-kept', { detail: String(cause) });
    }
  }

  async #readMarks(): Promise<void> {
    try {
      this.#marked = mergeMarks(this.#marked, await this.#marks.read());
    } catch (cause) {
      this.#say(null, fault('change-marks-not-kept', { detail: String(cause) }));
    }
  }

  /** Digests as they are kept, and those that could not be. */
  async #allDigests(): Promise<ReadonlyMap<CaseId, CaseDigest>> {
    const all = [...(await this.#kept.read()), ...this.#loose];
    return new Map(all.map((digest) => [digest.caseId, digest]));
  }

  /** Plays invented cases into the record. Those that are there already stay as they are. */
  async addDemo(count: number): Promise<Fault | null> {
    const card = describeBuiltIn(DEMO.procedure);
    if (!card.ok) return card.error;
    const shift = { ...DEMO.shift, fromCase: Math.floor(count * 0.7) };
    const made = makeDemoCases({ ...DEMO, procedure: card.value.data, count, shift });
    const store = await this.#open();
    if (!made.ok) return made.error;
    if (!store.ok) return store.error;
    const mine = ++this.#run;
    this.#demoCount = count;
    this.#begin({ done: 0, total: count });
    this.#say(this.#at);
    let done = 0;
    for (const entries of made.value) {
      const saved = await this.#keep(store.value, entries);
      // Stopped, or begun anew, while this one was kept.
      if (mine !== this.#run) return saved;
      if (saved) {
        this.#end(mine, null);
        return saved;
      }
      done += 1;
      this.#at = { done, total: count };
      if (done % 10 === 0) this.#say(this.#at);
    }
    this.#demoCount = 0;
    await this.load();
    return null;
  }

  async #keep(store: RecordStore, entries: readonly Entry[]): Promise<Fault | null> {
    const [first] = entries;
    if (!first || this.#table.has(first.caseId)) return null;
    const saved = await store.append(first.caseId, entries);
    return saved.ok || saved.error.code === 'record-conflict' ? null : saved.error;
  }

  async #readRecord(mine: number): Promise<Fault | null> {
    const store = await this.#open();
    if (!store.ok) return store.error;
    const listed = await store.value.listHeads();
    if (!listed.ok) return listed.error;
    const wanted = listed.value.filter(
      ({ caseId, isClosed }) => isClosed && !this.#table.isCurrent(caseId),
    );
    let fresh: CaseDigest[] = [];
    let problem: Fault | null = null;
    for (const [index, { caseId }] of wanted.entries()) {
      const digest = await this.#reader.read(store.value, caseId);
      if (mine !== this.#run) break;
      this.#at = { done: index + 1, total: wanted.length };
      if (digest) {
        this.#table.add(digest);
        this.#revision += 1;
        fresh.push(digest);
      }
      if (fresh.length >= PIECE) {
        problem = await this.#keepPiece(fresh);
        fresh = [];
      }
      if (performance.now() - this.#saidAtMs >= TELL_EVERY_MS) this.#say(this.#at);
    }
    return (await this.#keepPiece(fresh)) ?? problem;
  }

  /** Digests that can't be kept stay in memory as long as this visit lasts. */
  async #keepPiece(digests: readonly CaseDigest[]): Promise<Fault | null> {
    try {
      await this.#kept.add(digests);
      return null;
    } catch (cause) {
      this.#loose = [...this.#loose, ...digests];
      return cacheLost(cause);
    }
  }

  async #open(): Promise<Result<RecordStore, Fault>> {
    if (!this.#store) {
      const opened = await openRecord(globalThis.indexedDB, this.ring);
      if (opened.fault) return { ok: false, error: opened.fault };
      this.#store = opened.store;
    }
    return ok(this.#store);
  }

  #say(progress: ManyState['progress'], problem: Fault | null = null): void {
    this.#saidAtMs = performance.now();
    this.tell({
      progress,
      stopped: this.#stopped,
      fault: problem,
      caseCount: this.#table.count,
      unreadCount: this.#reader.unreadCount,
      choices: listChoices(this.#table),
      revision: this.#revision,
    });
  }
}

/** Local time minus UTC at a moment, in minutes: of the machine that looks back. */
function offsetAt(at: number): number {
  return -new Date(at).getTimezoneOffset();
}

function cacheLost(cause: unknown): Fault {
  return fault('review-cache-lost', { detail: String(cause) });
}
