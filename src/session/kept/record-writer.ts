/**
 * Writes entries in order and keeps what could not be written. A failure never
 * stops the case: entries wait in memory, their number is shown, and writing is
 * tried again. Another window's write is not fought over: then this one stops.
 */
import type { CaseId, Entry, Fault, Scheduler } from '../../domain';
import { fault } from '../../domain';
import type { RecordStore } from '../../record';

/** How long an order waits for the disk before the wall goes on unsaved, in milliseconds. */
const PATIENCE_MS = 1_500;
/** How soon a failed write is tried again, in milliseconds. */
const RETRY_MS = 2_000;

export class RecordWriter {
  #waiting: Entry[] = [];
  #fault: Fault | null = null;
  #isWriting = false;
  #isStopped = false;
  #retry: (() => void) | null = null;

  constructor(
    private readonly store: RecordStore,
    private readonly scheduler: Scheduler,
    private readonly caseId: CaseId,
    private readonly onChange: () => void,
    /** Entries of the case from one position up to another, for a store that has lost them. */
    private readonly shown: (from: number, to: number) => Promise<readonly Entry[]>,
  ) {}

  /** Entries that are not durable yet. */
  get unsavedCount(): number {
    return this.#waiting.length;
  }

  /** Why the last write failed; null while all is well. */
  get fault(): Fault | null {
    return this.#fault;
  }

  /** Resolves when the entries are durable, have failed, or patience is over. Never rejects. */
  async save(entries: readonly Entry[]): Promise<void> {
    this.#waiting.push(...entries);
    let stopWaiting: () => void = () => undefined;
    const patience = new Promise<void>((resolve) => {
      stopWaiting = this.scheduler.after(PATIENCE_MS, resolve);
    });
    await Promise.race([this.#flush(), patience]);
    stopWaiting();
  }

  /** Stops trying; what waits stays in memory for the file. */
  stop(): void {
    this.#isStopped = true;
    this.#retry?.();
  }

  async #flush(): Promise<void> {
    if (this.#isWriting || this.#isStopped) return;
    this.#isWriting = true;
    try {
      await this.#writeWaiting();
    } finally {
      this.#isWriting = false;
    }
  }

  async #writeWaiting(): Promise<void> {
    while (this.#waiting.length > 0) {
      const batch = [...this.#waiting];
      const written = await this.store.append(this.caseId, batch);
      if (!written.ok && (await this.#fillGap(written.error))) continue;
      if (!written.ok) {
        this.#fail(written.error, batch);
        break;
      }
      this.#waiting = this.#waiting.slice(batch.length);
      this.#settle(null);
    }
  }

  /** A store that was emptied under us gets the whole case again. False where that would not help. */
  async #fillGap({ code, params }: Fault): Promise<boolean> {
    const expected = Number(params['expected']);
    const first = this.#waiting[0]?.seq ?? 0;
    if (code !== 'record-gap' || !Number.isInteger(expected) || expected >= first) return false;
    const lost = await this.shown(expected, first);
    if (lost[0]?.seq !== expected) return false;
    this.#waiting = [...lost, ...this.#waiting];
    return true;
  }

  #fail(error: Fault, [first]: readonly Entry[]): void {
    const isConflict = error.code === 'record-conflict';
    const count = `${this.#waiting.length} ${this.#waiting.length === 1 ? 'entry' : 'entries'}`;
    this.#settle(
      error.code === 'record-append-failed'
        ? fault(error.code, { seq: String(first?.seq ?? ''), ...error.params, count })
        : error,
    );
    if (isConflict) {
      this.stop();
      return;
    }
    this.#retry?.();
    this.#retry = this.scheduler.after(RETRY_MS, () => {
      void this.#flush();
    });
  }

  #settle(next: Fault | null): void {
    this.#fault = next;
    this.onChange();
  }
}
