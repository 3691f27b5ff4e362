/**
 * The work behind the look back over many cases, as it runs in its worker: reads what
 * is kept, then looks in the record for closed cases that are new, a few at a time, so
 * that a question is answered in between and all of it can be stopped.
 */
import { fault, ok } from '../domain';
import type { CaseId, Entry, Fault, Outline, Result } from '../domain';
import { openRecord } from '../record';
import type { KeyRing, RecordStore } from '../record';
import {
  DIGEST_VERSION, casesToCsv, chartChange, digestCase, digestsToJson, filterCases, listChoices, makeSeries, measureRoom,
  mergeDigests, phasesToCsv, readReviewFile, summariseCases,
} from '../review'; // prettier-ignore
import type { CaseDigest } from '../review';
import { describeBuiltIn, makeDemoCases, outlineOf } from '../session';
import type { ManyAnswer, ManyFile, ManyQuestion, ManyState } from '../ui';
import { DigestStore, PIECE } from './digest-store';

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
  #digests = new Map<CaseId, CaseDigest>();
  readonly #kept: DigestStore;
  readonly #outlines = new Map<string, Outline | null>();
  #store: RecordStore | null = null;
  #run = 0;
  #saidAtMs = 0;

  /** `ring` opens cases and digests under the lock, as far as its window has. */
  constructor(
    private readonly tell: (state: ManyState) => void,
    private readonly ring: KeyRing,
  ) {
    this.#kept = new DigestStore(ring);
  }

  /** Shows what is kept at once, then what the record has beyond it. */
  async load(): Promise<void> {
    const mine = ++this.#run;
    try {
      for (const digest of await this.#kept.read()) this.#take(digest);
    } catch (cause) {
      // Only a cache: the record itself is read below.
      this.#say(null, fault('review-cache-lost', { detail: String(cause) }));
    }
    this.#say({ done: 0, total: 0 });
    const problem = await this.#readRecord(mine);
    if (mine === this.#run) this.#say(null, problem);
  }

  cancel(): void {
    this.#run += 1;
    this.#say(null);
  }

  look({ filter, key, marks, offsetMin }: ManyQuestion): ManyAnswer {
    const cases = filterCases([...this.#digests.values()], filter);
    const series = makeSeries(cases, key, false);
    return {
      filter,
      key,
      summary: summariseCases(cases),
      change: chartChange(series, marks),
      room: measureRoom(cases, offsetMin),
      period:
        cases.length === 0
          ? null
          : { from: cases[0]?.openedAt ?? 0, to: cases.at(-1)?.openedAt ?? 0 },
    };
  }

  file(filter: ManyQuestion['filter'], file: ManyFile): string {
    const cases = filterCases([...this.#digests.values()], filter);
    return file === 'cases-csv'
      ? casesToCsv(cases)
      : file === 'phases-csv'
        ? phasesToCsv(cases)
        : digestsToJson(cases);
  }

  async bring(text: string): Promise<Fault | null> {
    const read = readReviewFile(text);
    if (!read.ok) return read.error;
    const merged = mergeDigests([...this.#digests.values()], read.value);
    this.#digests = new Map(merged.digests.map((digest) => [digest.caseId, digest]));
    await this.#kept.replace(merged.digests);
    this.#say(null);
    return null;
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
    let done = 0;
    for (const entries of made.value) {
      const saved = await this.#keep(store.value, entries);
      if (saved) return saved;
      done += 1;
      if (done % 10 === 0) this.#say({ done, total: count });
    }
    await this.load();
    return null;
  }

  async #keep(store: RecordStore, entries: readonly Entry[]): Promise<Fault | null> {
    const [first] = entries;
    if (!first || this.#digests.has(first.caseId)) return null;
    const saved = await store.append(first.caseId, entries);
    return saved.ok || saved.error.code === 'record-conflict' ? null : saved.error;
  }

  async #readRecord(mine: number): Promise<Fault | null> {
    const store = await this.#open();
    if (!store.ok) return store.error;
    const listed = await store.value.listHeads();
    if (!listed.ok) return listed.error;
    const wanted = listed.value.filter(
      ({ caseId, isClosed }) => isClosed && !this.#isKnown(caseId),
    );
    let fresh: CaseDigest[] = [];
    for (const [index, { caseId }] of wanted.entries()) {
      if (mine !== this.#run) break;
      const digest = await this.#digestOf(store.value, caseId);
      if (digest) {
        this.#take(digest);
        fresh.push(digest);
      }
      if (fresh.length >= PIECE) {
        await this.#kept.add(fresh);
        fresh = [];
      }
      if (performance.now() - this.#saidAtMs >= TELL_EVERY_MS)
        this.#say({ done: index + 1, total: wanted.length });
    }
    await this.#kept.add(fresh);
    return null;
  }

  async #digestOf(store: RecordStore, caseId: CaseId): Promise<CaseDigest | null> {
    const read = await store.read(caseId);
    if (!read.ok || read.value.problem) return null;
    const [opening] = read.value.entries;
    if (opening?.type !== 'case.opened') return null;
    const key = `${opening.data.procedureId} ${JSON.stringify(opening.data.procedure).length}`;
    const known = this.#outlines.get(key);
    const found = known === undefined ? outlineOf(opening.data.procedure) : null;
    const outline = known ?? (found?.ok ? found.value : null);
    this.#outlines.set(key, outline);
    return outline === null ? null : digestCase(read.value.entries, outline);
  }

  async #open(): Promise<Result<RecordStore, Fault>> {
    if (!this.#store) {
      const opened = await openRecord(globalThis.indexedDB, this.ring);
      if (opened.fault) return { ok: false, error: opened.fault };
      this.#store = opened.store;
    }
    return ok(this.#store);
  }

  /** Kept, and as this version of the program makes it. */
  #isKnown(caseId: CaseId): boolean {
    return this.#digests.get(caseId)?.version === DIGEST_VERSION;
  }

  #take(digest: CaseDigest): void {
    this.#digests.set(digest.caseId, digest);
  }

  #say(progress: ManyState['progress'], problem: Fault | null = null): void {
    this.#saidAtMs = performance.now();
    const all = [...this.#digests.values()];
    this.tell({ progress, fault: problem, caseCount: all.length, choices: listChoices(all) });
  }
}
