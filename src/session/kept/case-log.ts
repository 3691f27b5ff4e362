/**
 * One case as entries and what follows from them. The window that writes and the
 * windows that follow hold the same thing; only the way entries arrive differs.
 */
import type {
  Announcement, CaseId, CaseSetup, Entry, Fault, Result, RoomOrder, Stamp, Vocabulary,
} from '../../domain'; // prettier-ignore
import { elapsedBetween, err, fault, isImplantOrder, ok } from '../../domain';
import { contextOf, listPhrases, loadRecordedProcedure, subjectOf } from '../../procedure';
import type { CaseState, CompiledProcedure } from '../../procedure';
import type { Snapshot } from '../../record';
import { announce } from '../announced/announcements';
import { addEntry, noFacts } from '../case-facts';
import type { CaseFacts } from '../case-facts';
import { textToFacts } from './case-snapshot';
import { EntryShelf } from './entry-shelf';
import { makeView } from '../view/make-view';
import type { CaseView } from '../view/view';

/** How many states are kept: more than can pass while somebody speaks or reaches for a key. */
const STATES_KEPT = 64;

/** What a case does not say about itself. */
export interface CaseSettings {
  readonly addressPhrase: string;
  /** After how long an unconfirmed read-back lapses, in milliseconds. */
  readonly lapseMs: number;
}

export class CaseLog {
  #facts: CaseFacts;
  readonly #shelf: EntryShelf;
  /** The latest states by how many entries led to them, for orders given a moment ago. */
  readonly #states = new Map<number, CaseState>();

  constructor(
    readonly caseId: CaseId,
    readonly compiled: CompiledProcedure,
    readonly settings: CaseSettings,
    /** What lies before the entries that will be added, where they are not the whole case. */
    before: CaseFacts = noFacts(compiled),
  ) {
    this.#facts = before;
    this.#shelf = new EntryShelf(before.count);
  }

  /** Rebuilds a case from its entries, with the procedure that its first entry carries. */
  static rebuild(entries: readonly Entry[], settings: CaseSettings): Result<CaseLog, Fault> {
    const [first] = entries;
    if (first?.type !== 'case.opened') {
      return err(fault('record-unreadable', { seq: '0', detail: 'the case has no opening entry' }));
    }
    const compiled = loadRecordedProcedure(first.data.procedure);
    if (!compiled.ok) return compiled;
    return new CaseLog(first.caseId, compiled.value, settings).tryToAdd(entries);
  }

  /** Puts a case back from a snapshot and the entries after it; null where they do not fit. */
  static restore(
    opening: Entry,
    { text }: Snapshot,
    entries: readonly Entry[],
    settings: CaseSettings,
  ): CaseLog | null {
    if (opening.type !== 'case.opened') return null;
    const compiled = loadRecordedProcedure(opening.data.procedure);
    if (!compiled.ok) return null;
    try {
      const before = textToFacts(compiled.value, opening.data, text);
      const log = new CaseLog(opening.caseId, compiled.value, settings, before);
      return log.tryToAdd(entries).ok ? log : null;
    } catch {
      // A snapshot that this program can't read is none; the record is read instead.
      return null;
    }
  }

  /** Adds entries one by one; the fault names the first that does not follow from those before. */
  tryToAdd(entries: readonly Entry[]): Result<CaseLog, Fault> {
    for (const entry of entries) {
      try {
        this.#take([entry]);
      } catch (cause) {
        const detail = cause instanceof Error ? cause.message : String(cause);
        return err(fault('record-unreadable', { seq: String(entry.seq), detail }));
      }
    }
    return ok(this);
  }

  get facts(): CaseFacts {
    return this.#facts;
  }

  /** How many entries there are. */
  get count(): number {
    return this.#shelf.count;
  }

  /** Whether every entry is in memory: false for a while after a case was put back from a snapshot. */
  get isWhole(): boolean {
    return this.#shelf.isWhole;
  }

  /** Entries from a position on, as far as they are in memory; the older, the dearer. */
  entriesFrom(seq: number): readonly Entry[] {
    return this.#shelf.from(seq);
  }

  /** Bytes of the older entries, which lie deflated. */
  get packedBytes(): number {
    return this.#shelf.packedBytes;
  }

  /** Puts in the entries that a snapshot stood for. */
  fill(beginning: readonly Entry[]): void {
    this.#shelf.fill(beginning);
  }

  get setup(): CaseSetup | null {
    return this.#facts.setup;
  }

  /** Adds entries that follow from those before; returns what is to be said aloud. */
  add(entries: readonly Entry[]): readonly Announcement[] {
    this.#take(entries);
    return announce(this.compiled, this.#facts, entries);
  }

  #take(entries: readonly Entry[]): void {
    for (const entry of entries) {
      this.#facts = addEntry(this.compiled, this.#facts, entry);
      this.#shelf.push(entry);
    }
    this.#states.set(this.count, this.#facts.state);
    const [oldest] = this.#states.keys();
    if (this.#states.size > STATES_KEPT && oldest !== undefined) this.#states.delete(oldest);
  }

  /** As the case was opened with; what this program would take now, where the record does not say. */
  get #addressPhrase(): string {
    return this.setup?.addressPhrase ?? this.settings.addressPhrase;
  }

  /** What may be said now. */
  vocabulary(): Vocabulary {
    return {
      addressPhrase: this.#addressPhrase,
      phrases: listPhrases(this.compiled, this.#facts.state),
      asOf: this.count,
    };
  }

  /** Whether what an order is about is still as its giver saw it. */
  isTimely(order: RoomOrder, asOf: number | undefined): boolean {
    if (asOf === undefined || asOf === this.count) return true;
    // Orders about packs and angles name all that they are about.
    if (isImplantOrder(order)) return true;
    // What is taken back must be what its giver saw carried out.
    if (order.type === 'order.undo') return asOf >= this.#facts.moves.doneAt;
    const then = this.#states.get(asOf);
    const now = subjectOf(this.compiled, this.#facts.state, order);
    return then ? subjectOf(this.compiled, then, order) === now : now === '';
  }

  /** How long the open read-back may still be answered, in milliseconds; without one, for ever. */
  readBackLeftMs(now: Stamp): number {
    const { askedAt, state } = this.#facts;
    if (!askedAt || !contextOf(state).offered) return Infinity;
    return this.settings.lapseMs - elapsedBetween(askedAt.since, now).ms;
  }

  view(unsavedCount: number, storageFault: Fault | null): CaseView {
    return makeView(this.compiled, this.#facts, {
      caseId: this.caseId,
      addressPhrase: this.#addressPhrase,
      lapseMs: this.settings.lapseMs,
      unsavedCount,
      storageFault,
    });
  }
}
