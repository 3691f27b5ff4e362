/**
 * One running case in the window that writes it: order -> decide -> append ->
 * publish. Orders are taken one after another; an entry is on disk, or known to
 * wait for it, before anybody sees it. Sees ports only.
 */
import { ENTRY_VERSION, err, fault, ok, toEntry } from '../domain';
import type {
  Announcement, CaseId, CaseSetup, Clock, Entry, Fact, Fault, HeardPhrase, Order, Result, RunId, Scheduler,
  Source, Vocabulary,
} from '../domain'; // prettier-ignore
import { contextOf, decide, decideOpening, isClosed, loadProcedure } from '../procedure';
import type { RecordStore } from '../record';
import { CaseLog } from './case-log';
import type { CaseSettings } from './case-log';
import { RecordWriter } from './record-writer';
import type { CaseUpdate, OrderOutcome, RunningCase } from './running-case';
import type { CaseView } from './view';

/** Everything a session needs from outside. */
export interface SessionPorts {
  readonly store: RecordStore;
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  /** This life of this window: monotonic times of different runs can't be compared. */
  readonly run: RunId;
}

interface Sourced {
  readonly fact: Fact;
  readonly source: Source;
}

export class CaseSession implements RunningCase {
  readonly #subscribers = new Set<(update: CaseUpdate) => void>();
  readonly #writer: RecordWriter;
  #tail: Promise<unknown> = Promise.resolve();
  #cancelLapse: (() => void) | null = null;
  /** The read-back that the lapse timer runs for. */
  #watched: object | null = null;
  #view: CaseView | null = null;

  private constructor(
    private readonly ports: SessionPorts,
    private readonly log: CaseLog,
  ) {
    this.#writer = new RecordWriter(
      ports.store,
      ports.scheduler,
      log.caseId,
      () => {
        this.#publish([], []);
      },
      () => log.entries,
    );
  }

  /** Opens a new case; the fault says what is wrong with its procedure. */
  static async open(
    ports: SessionPorts,
    settings: CaseSettings,
    caseId: CaseId,
    setup: CaseSetup,
  ): Promise<Result<CaseSession, Fault>> {
    const compiled = loadProcedure(setup.procedure);
    if (!compiled.ok) return compiled;
    const session = new CaseSession(ports, new CaseLog(caseId, compiled.value, settings));
    const opening = decideOpening(compiled.value, session.log.facts.state);
    await session.#append([
      { fact: { type: 'case.opened', data: setup }, source: 'desk' },
      ...opening.map((fact): Sourced => ({ fact, source: 'wall' })),
    ]);
    return ok(session);
  }

  /** Takes up a case that an earlier run left; its first new entry says so. */
  static async resume(
    ports: SessionPorts,
    settings: CaseSettings,
    caseId: CaseId,
  ): Promise<Result<CaseSession, Fault>> {
    const read = await ports.store.read(caseId);
    if (!read.ok) return read;
    if (read.value.isReadOnly) return err(read.value.problem ?? fault('record-unreadable'));
    const log = CaseLog.rebuild(read.value.entries, settings);
    if (!log.ok) return log;
    const session = new CaseSession(ports, log.value);
    if (!isClosed(log.value.facts.state)) {
      await session.#append([{ fact: { type: 'run.resumed', data: {} }, source: 'wall' }]);
      session.#watchReadBack();
    }
    return ok(session);
  }

  get view(): CaseView {
    return (this.#view ??= this.log.view(this.#writer.unsavedCount, this.#writer.fault));
  }

  get vocabulary(): Vocabulary {
    return this.log.vocabulary();
  }

  get entries(): readonly Entry[] {
    return this.log.entries;
  }

  submit(order: Order, source: Source): Promise<OrderOutcome> {
    return this.#inTurn(() => this.#carryOut(order, source, []));
  }

  hear(heard: HeardPhrase): Promise<OrderOutcome> {
    return this.#inTurn(() => {
      const fact: Fact = { type: 'phrase.heard', data: { ...heard } };
      const before: readonly Sourced[] = [{ fact, source: 'voice' }];
      if (heard.words === null)
        return this.#refuse(fault('phrase-not-understood'), null, 'voice', before);
      const spoken = this.vocabulary.phrases.find(({ words }) => words === heard.words);
      return spoken
        ? this.#carryOut(spoken.order, 'voice', before)
        : this.#refuse(fault('phrase-not-now', { words: heard.words }), null, 'voice', before);
    });
  }

  subscribe(subscriber: (update: CaseUpdate) => void): () => void {
    this.#subscribers.add(subscriber);
    return () => this.#subscribers.delete(subscriber);
  }

  /** Lets go of timers and of the disk; used when another window takes the case over. */
  close(): void {
    this.#cancelLapse?.();
    this.#writer.stop();
    this.#subscribers.clear();
  }

  /** Orders wait for each other, so that each is decided on what the last one left. */
  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#tail.then(work);
    this.#tail = turn.catch(() => undefined); // The caller of `turn` gets the error; the queue goes on.
    return turn;
  }

  async #carryOut(order: Order, source: Source, before: readonly Sourced[]): Promise<OrderOutcome> {
    const decided = decide(this.log.compiled, this.log.facts.state, order, source);
    if (!decided.ok) {
      const { fault: why, holdPoint, conditions } = decided.error;
      return this.#refuse(why, order, source, before, { holdPoint, conditions });
    }
    await this.#append([
      ...before,
      ...decided.value.map(({ fact, isConsequence }): Sourced => ({
        fact,
        source: isConsequence ? 'wall' : source,
      })),
    ]);
    this.#watchReadBack();
    return { refusal: null };
  }

  async #refuse(
    why: Fault,
    order: Order | null,
    source: Source,
    before: readonly Sourced[],
    held: Pick<Extract<Fact, { type: 'order.refused' }>['data'], 'holdPoint' | 'conditions'> = {
      holdPoint: null,
      conditions: [],
    },
  ): Promise<OrderOutcome> {
    const fact: Fact = {
      type: 'order.refused',
      data: { order, code: why.code, params: why.params, ...held },
    };
    await this.#append([...before, { fact, source }]);
    return { refusal: why };
  }

  /** Append first, then display. */
  async #append(facts: readonly Sourced[]): Promise<void> {
    const { clock, run } = this.ports;
    const stamp = { at: clock.wallMs(), mono: clock.monoMs(), run };
    const first = this.log.entries.length;
    const entries = facts.map(({ fact, source }, index) =>
      toEntry(
        { caseId: this.log.caseId, seq: first + index, source, version: ENTRY_VERSION, ...stamp },
        fact,
      ),
    );
    await this.#writer.save(entries);
    this.#publish(entries, this.log.add(entries));
  }

  #publish(entries: readonly Entry[], announcements: readonly Announcement[]): void {
    if (!this.log.setup) return;
    this.#view = null;
    const update = { view: this.view, entries, announcements };
    for (const subscriber of this.#subscribers) subscriber(update);
  }

  /** An unconfirmed read-back lapses on its own, visibly. */
  #watchReadBack(): void {
    const { offered } = contextOf(this.log.facts.state);
    if (offered === this.#watched) return;
    this.#cancelLapse?.();
    this.#cancelLapse = null;
    this.#watched = offered;
    if (!offered) return;
    this.#cancelLapse = this.ports.scheduler.after(this.log.settings.lapseMs, () => {
      void this.#inTurn(async () => {
        if (contextOf(this.log.facts.state).offered === offered) {
          await this.#carryOut({ type: 'capture.lapse' }, 'wall', []);
        }
      });
    });
  }
}
