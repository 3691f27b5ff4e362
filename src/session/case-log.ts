/**
 * One case as entries and what follows from them. The window that writes and the
 * windows that follow hold the same thing; only the way entries arrive differs.
 */
import type {
  Announcement, CaseId, CaseSetup, Entry, Fault, Result, RoomOrder, Vocabulary,
} from '../domain'; // prettier-ignore
import { err, fault, isImplantOrder, ok } from '../domain';
import { listPhrases, loadRecordedProcedure, subjectOf } from '../procedure';
import type { CaseState, CompiledProcedure } from '../procedure';
import { announce } from './announcements';
import { addEntry, noFacts } from './case-facts';
import type { CaseFacts } from './case-facts';
import { makeView } from './make-view';
import type { CaseView } from './view';

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
  readonly #entries: Entry[] = [];
  /** The latest states by how many entries led to them, for orders given a moment ago. */
  readonly #states = new Map<number, CaseState>();

  constructor(
    readonly caseId: CaseId,
    readonly compiled: CompiledProcedure,
    readonly settings: CaseSettings,
  ) {
    this.#facts = noFacts(compiled);
  }

  /** Rebuilds a case from its entries, with the procedure that its first entry carries. */
  static rebuild(entries: readonly Entry[], settings: CaseSettings): Result<CaseLog, Fault> {
    const [first] = entries;
    if (first?.type !== 'case.opened') {
      return err(fault('record-unreadable', { seq: '0', detail: 'the case has no opening entry' }));
    }
    const compiled = loadRecordedProcedure(first.data.procedure);
    if (!compiled.ok) return compiled;
    const log = new CaseLog(first.caseId, compiled.value, settings);
    for (const entry of entries) {
      try {
        log.#take([entry]);
      } catch (cause) {
        const detail = cause instanceof Error ? cause.message : String(cause);
        return err(fault('record-unreadable', { seq: String(entry.seq), detail }));
      }
    }
    return ok(log);
  }

  get facts(): CaseFacts {
    return this.#facts;
  }

  get entries(): readonly Entry[] {
    return this.#entries;
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
      this.#entries.push(entry);
    }
    this.#states.set(this.#entries.length, this.#facts.state);
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
      asOf: this.#entries.length,
    };
  }

  /** Whether what an order is about is still as its giver saw it. */
  isTimely(order: RoomOrder, asOf: number | undefined): boolean {
    if (asOf === undefined || asOf === this.#entries.length) return true;
    // Orders about packs and angles name all that they are about.
    if (isImplantOrder(order)) return true;
    // What is taken back must be what its giver saw carried out.
    if (order.type === 'order.undo') return asOf >= this.#facts.moves.doneAt;
    const then = this.#states.get(asOf);
    const now = subjectOf(this.compiled, this.#facts.state, order);
    return then ? subjectOf(this.compiled, then, order) === now : now === '';
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
