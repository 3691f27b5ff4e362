/**
 * Which case is open in this window. Finds the case that an earlier run left and
 * takes it up, opens new ones, and puts closed ones away.
 */
import { asId, fault, ok } from '../domain';
import type { AnglePlan, CaseId, CaseSetup, Fault, Result } from '../domain';
import { CaseSession } from './case-session';
import type { SessionPorts } from './case-session';
import type { CaseLog, CaseSettings } from './kept/case-log';
import type { RunningCase } from './running-case';

export class CaseHost {
  #current: CaseSession | null = null;
  #isOpening = false;
  readonly #watchers = new Set<() => void>();

  constructor(
    private readonly ports: SessionPorts,
    private readonly settings: CaseSettings,
    /** Makes the id of a new case. */
    private readonly newCaseId: () => CaseId,
  ) {}

  get current(): RunningCase | null {
    return this.#current;
  }

  /** Called whenever another case (or none) is current. */
  watch(watcher: () => void): () => void {
    this.#watchers.add(watcher);
    return () => this.#watchers.delete(watcher);
  }

  /** Takes up the newest case that was not closed, if there is one. */
  async resumeOpenCase(): Promise<Result<void, Fault>> {
    const listed = await this.ports.store.listHeads();
    if (!listed.ok) return listed;
    const [open] = listed.value
      .filter(({ isClosed }) => !isClosed)
      .sort((a, b) => (b.openedAt ?? 0) - (a.openedAt ?? 0));
    if (!open) return ok(undefined);
    const resumed = await CaseSession.resume(this.ports, this.settings, open.caseId);
    if (!resumed.ok) return resumed;
    this.#put(resumed.value);
    return ok(undefined);
  }

  /**
   * Takes up a case that another window wrote: from the record where that has all of it,
   * else from the entries that were followed here.
   */
  async adopt(caseId: CaseId, followed: CaseLog): Promise<Result<void, Fault>> {
    const { ports, settings } = this;
    const stored = await this.#storedOf(caseId, followed);
    const adopted =
      stored > followed.count
        ? await CaseSession.resume(ports, settings, caseId)
        : ok(await CaseSession.adopt(ports, followed, stored));
    if (!adopted.ok) return adopted;
    this.#put(adopted.value);
    return ok(undefined);
  }

  /** How many entries the record has, once it has those that were followed where it can. */
  async #storedOf(caseId: CaseId, followed: CaseLog): Promise<number> {
    const { store } = this.ports;
    const caught = await store.readAfter(caseId, { count: followed.count, hash: null });
    // Usually the record has what was followed, and perhaps a little more: then no time is lost.
    if (caught.ok && caught.value?.isEnd && followed.tryToAdd(caught.value.entries).ok)
      return followed.count;
    const read = await store.read(caseId);
    const stored = read.ok ? read.value.entries.length : 0;
    if (read.ok && read.value.isReadOnly && stored <= followed.count) {
      // What was followed is better than a damaged end; that is kept beside the case.
      await store.setAside(caseId, stored);
    }
    return stored;
  }

  /** Opens a new case, with the planning sheet that was typed before it. A case that is still running, or just being opened, comes first. */
  async open(
    setup: CaseSetup,
    sheet: AnglePlan | null = null,
    orderId?: string,
  ): Promise<Result<void, Fault>> {
    if (this.#isOpening || (this.#current && this.#current.view.status !== 'closed')) {
      return { ok: false, error: fault('case-still-open') };
    }
    this.#isOpening = true;
    try {
      return await this.#open(setup, sheet, orderId);
    } finally {
      this.#isOpening = false;
    }
  }

  async #open(
    setup: CaseSetup,
    sheet: AnglePlan | null,
    orderId?: string,
  ): Promise<Result<void, Fault>> {
    const { ports, settings } = this;
    const opened = await CaseSession.open(ports, settings, this.newCaseId(), setup, orderId);
    if (!opened.ok) return opened;
    // A sheet that is refused is on the record as a refusal, and shown like any other.
    if (sheet) await opened.value.submit({ type: 'angles.plan', plan: sheet }, 'desk');
    this.#put(opened.value);
    return ok(undefined);
  }

  /** Puts the current case away; its record stays. */
  leave(): void {
    this.#put(null);
  }

  #put(session: CaseSession | null): void {
    this.#current?.close();
    this.#current = session;
    for (const watcher of this.#watchers) watcher();
  }
}

/** A case id from a time and a random part: sortable, no meaning, no person. */
export function makeCaseId(wallMs: number, random: string): CaseId {
  const time = new Date(wallMs).toISOString().slice(0, 16).replace(/[-:]/g, '').replace('T', '-');
  return asId<CaseId>(`case-${time}-${random}`);
}
