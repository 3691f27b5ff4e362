/**
 * One running case in the window that writes it: order -> decide -> append ->
 * publish. Orders are taken one after another; an entry is on disk, or known to
 * wait for it, before anybody sees it. Sees ports only.
 */
import {
  ENTRY_VERSION, err, fault, faultToDeveloperText, isImplantOrder, ok, toEntry,
} from '../domain'; // prettier-ignore
import type {
  Announcement, CaseId, CaseSetup, Clock, Entry, Fact, Fault, HeardPhrase, Result, RoomOrder, RunId, Scheduler,
  Source, Stamp, Vocabulary,
} from '../domain'; // prettier-ignore
import { decide, decideOpening, isClosed, loadProcedure } from '../procedure';
import type { RecordStore, SnapshotStore } from '../record';
import { CaseLog } from './kept/case-log';
import type { CaseSettings } from './kept/case-log';
import { CaseWatch } from './case-watch';
import { decideOnImplants } from './implants/implants-orders';
import { comparePacks } from './implants/packs-compared';
import { factsToText, isSameFacts } from './kept/case-snapshot';
import { checkSnapshot, resumeQuickly } from './quick-resume';
import type { QuickCase } from './quick-resume';
import { whyCardUnfit } from './newcomer-card';
import { RecordWriter } from './kept/record-writer';
import { notUnderstood, toStorable } from './refused-orders';
import { SnapshotKeeper } from './kept/snapshot-keeper';
import type { CaseUpdate, OrderOutcome, RunningCase } from './running-case';
import { takeUp } from './take-up';
import type { CaseView } from './view/view';

/** Everything a session needs from outside. */
export interface SessionPorts {
  readonly store: RecordStore;
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  /** This life of this window: monotonic times of different runs can't be compared. */
  readonly run: RunId;
  /** Where snapshots of the running case are kept; without it every restart reads the whole case. */
  readonly snapshots?: SnapshotStore | undefined;
  /** Tells somebody of a fault that no order has caused. */
  readonly report?: (fault: Fault) => void;
}

interface Sourced {
  readonly fact: Fact;
  readonly source: Source;
}

export class CaseSession implements RunningCase {
  readonly #subscribers = new Set<(update: CaseUpdate) => void>();
  readonly #writer: RecordWriter;
  #tail: Promise<unknown> = Promise.resolve();
  #view: CaseView | null = null;
  /** Why the record that the case was put back from can't be read whole; null where it can. */
  #doubt: Fault | null = null;
  /** Resolves when every entry is in memory; the fault says why that can't be. */
  #whole: Promise<Result<void, Fault>> = Promise.resolve(ok(undefined));
  readonly #keeper: SnapshotKeeper;
  readonly #watch: CaseWatch;
  /** The order that is being carried out, where it came with an id: its entries say so. */
  #orderId: string | undefined;

  private constructor(
    private readonly ports: SessionPorts,
    private log: CaseLog,
    snapshotCount = 0,
  ) {
    this.#keeper = new SnapshotKeeper(ports.snapshots, snapshotCount);
    this.#watch = new CaseWatch(ports.scheduler, {
      log: () => this.log,
      now: () => this.#now(),
      act: (order, isDue) => void this.#inTurn(() => this.#actIfDue(order, isDue)),
    });
    this.#writer = new RecordWriter(
      ports.store,
      ports.scheduler,
      log.caseId,
      () => {
        this.#publish([], []);
      },
      async (from, to) => {
        const whole = await this.#whole;
        return whole.ok ? this.log.entriesFrom(from).slice(0, to - from) : [];
      },
    );
  }

  /** Opens a new case; the fault says what is wrong with its procedure. */
  static async open(
    ports: SessionPorts,
    settings: CaseSettings,
    caseId: CaseId,
    setup: CaseSetup,
    orderId?: string,
  ): Promise<Result<CaseSession, Fault>> {
    const compiled = loadProcedure(setup.procedure);
    if (!compiled.ok) return compiled;
    const session = new CaseSession(ports, new CaseLog(caseId, compiled.value, settings));
    session.#orderId = orderId;
    const opening = decideOpening(compiled.value, session.log.facts.state);
    await session.#append([
      { fact: { type: 'case.opened', data: setup }, source: 'desk' },
      ...opening.map((fact): Sourced => ({ fact, source: 'wall' })),
    ]);
    await session.#comparePacks();
    session.#orderId = undefined;
    return ok(session);
  }

  /** Takes up a case that an earlier run left; its first new entry says so. */
  static async resume(
    ports: SessionPorts,
    settings: CaseSettings,
    caseId: CaseId,
  ): Promise<Result<CaseSession, Fault>> {
    const { store, snapshots } = ports;
    const quick = snapshots ? await resumeQuickly(store, snapshots, settings, caseId) : null;
    if (quick) {
      const session = new CaseSession(ports, quick.log, quick.snapshot.tail.count);
      await session.#goOn([]);
      session.#whole = session.#makeWhole(quick);
      return ok(session);
    }
    const taken = await takeUp(ports.store, caseId);
    if (!taken.ok) return taken;
    const { entries, mending } = taken.value;
    const log = CaseLog.rebuild(entries, settings);
    if (!log.ok) return log;
    const session = new CaseSession(ports, log.value);
    await session.#goOn(mending);
    return ok(session);
  }

  /**
   * Takes up a case that another window wrote, from what it was followed by: what the
   * store lacks of it waits to be written, so that nothing depends on the disk.
   */
  static async adopt(ports: SessionPorts, log: CaseLog, storedCount: number): Promise<CaseSession> {
    const session = new CaseSession(ports, log);
    if (storedCount < log.count) await session.#writer.save(log.entriesFrom(storedCount));
    await session.#goOn([]);
    return session;
  }

  /** Says that the case was taken up, after what had to be mended. */
  async #goOn(mending: readonly Fact[]): Promise<void> {
    if (isClosed(this.log.facts.state)) return;
    const facts: readonly Fact[] = [...mending, { type: 'run.resumed', data: {} }];
    await this.#append(facts.map((fact) => ({ fact, source: 'wall' })));
    await this.#comparePacks();
    this.#watch.set();
  }

  /** Checks what the case was put back from against the record, and replaces it where it is wrong. */
  async #makeWhole(quick: QuickCase): Promise<Result<void, Fault>> {
    const { store, scheduler } = this.ports;
    const checked = await checkSnapshot(store, scheduler, quick);
    if (checked.ok) {
      this.log.fill(checked.value);
      return ok(undefined);
    }
    console.warn(faultToDeveloperText(checked.error));
    await this.#keeper.discard(this.log);
    return this.#inTurn(() => this.#readAnew(checked.error));
  }

  /** The case as the record has it, in place of what a snapshot said. */
  async #readAnew(why: Fault): Promise<Result<void, Fault>> {
    const read = await this.ports.store.read(this.log.caseId);
    const after = this.log.entriesFrom(read.ok ? read.value.entries.length : 0);
    const anew = read.ok
      ? CaseLog.rebuild([...read.value.entries, ...after], this.log.settings)
      : read;
    if (!anew.ok || anew.value.count !== this.log.count) {
      this.#doubt = why;
      this.#publish([], []);
      return anew.ok ? err(why) : anew;
    }
    const isSame = isSameFacts(factsToText(anew.value.facts), factsToText(this.log.facts));
    if (!isSame) this.ports.report?.(why);
    this.log = anew.value;
    this.#watch.set();
    this.#publish([], []);
    return ok(undefined);
  }

  get view(): CaseView {
    const { unsavedCount, fault: unsaved } = this.#writer;
    return (this.#view ??= this.log.view(unsavedCount, unsaved ?? this.#doubt));
  }

  get vocabulary(): Vocabulary {
    return this.log.vocabulary();
  }

  get entries(): readonly Entry[] {
    return this.log.entriesFrom(0);
  }

  entriesFrom(seq: number): readonly Entry[] {
    return this.log.entriesFrom(seq);
  }

  /** Bytes of the older entries, which lie deflated. */
  get packedBytes(): number {
    return this.log.packedBytes;
  }

  untilWhole(): Promise<Result<void, Fault>> {
    return this.#whole;
  }

  submit(order: RoomOrder, source: Source, asOf?: number, orderId?: string): Promise<OrderOutcome> {
    return this.#inTurn(() => this.#carryOutIfTimely(order, source, [], asOf), orderId);
  }

  hear(heard: HeardPhrase, orderId?: string): Promise<OrderOutcome> {
    // What people say to each other is no fact of the case.
    if (heard.isTalk) return Promise.resolve({ refusal: null });
    return this.#inTurn(() => {
      const { asOf, candidates, hasTwoVoices, ...data } = heard;
      const fact: Fact = { type: 'phrase.heard', data };
      const before: readonly Sourced[] = [{ fact, source: 'voice' }];
      if (heard.words === null)
        return this.#refuse(notUnderstood(hasTwoVoices, candidates), null, 'voice', before);
      const order = this.vocabulary.phrases.find(({ words }) => words === heard.words)?.order;
      return order
        ? this.#carryOutIfTimely(order, 'voice', before, asOf)
        : this.#refuse(fault('phrase-not-now', { words: heard.words }), null, 'voice', before);
    }, orderId);
  }

  subscribe(subscriber: (update: CaseUpdate) => void): () => void {
    this.#subscribers.add(subscriber);
    return () => this.#subscribers.delete(subscriber);
  }

  /** Lets go of timers and screens; used when the case is put away. */
  close(): void {
    // The writer goes on by itself until nothing waits: a case put away is not a case lost.
    this.#watch.clear();
    this.#subscribers.clear();
  }

  /** Orders wait for each other, so that each is decided on what the last one left. */
  #inTurn<T>(work: () => Promise<T>, orderId?: string): Promise<T> {
    const turn = this.#tail.then(() => {
      this.#orderId = orderId;
      return work();
    });
    this.#tail = turn.catch(() => undefined); // The caller of `turn` gets the error; the queue goes on.
    return turn;
  }

  /** Refuses an order that was given for a state that is gone; a read-back past its time lapses first. */
  async #carryOutIfTimely(
    order: RoomOrder,
    source: Source,
    before: readonly Sourced[],
    asOf: number | undefined,
  ): Promise<OrderOutcome> {
    if (order.type === 'capture.confirm' && this.log.readBackLeftMs(this.#now()) <= 0) {
      await this.#carryOut({ type: 'capture.lapse' }, 'wall', []);
    }
    return this.log.isTimely(order, asOf)
      ? this.#carryOut(order, source, before)
      : this.#refuse(fault('changed-meanwhile', { order: order.type }), order, source, before);
  }

  async #carryOut(
    order: RoomOrder,
    source: Source,
    before: readonly Sourced[],
  ): Promise<OrderOutcome> {
    const decided = this.#decide(order, source);
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
    await this.#comparePacks();
    this.#watch.set();
    return { refusal: null };
  }

  /** Where a hold point asks whether packs and sizes agree, the wall answers as soon as that has changed. */
  async #comparePacks(): Promise<void> {
    const facts = comparePacks(this.log.compiled, this.log.facts);
    if (facts.length > 0) await this.#append(facts.map((fact) => ({ fact, source: 'wall' })));
  }

  /** A mistake of this program in deciding is a refusal too: the wall must not stop for it. */
  #decide(order: RoomOrder, source: Source): ReturnType<typeof decide> {
    try {
      const { compiled, facts } = this.log;
      if (isImplantOrder(order)) {
        return decideOnImplants(compiled, facts, order, source, this.#now().at);
      }
      const unfit = whyCardUnfit(facts.cards, order);
      if (unfit) return err({ fault: unfit, holdPoint: null, conditions: [] });
      const { state, moves } = facts;
      return decide(compiled, state, order, source, moves.last);
    } catch (cause) {
      const detail = cause instanceof Error ? cause.message : String(cause);
      const why = fault('order-failed', { order: order.type, detail });
      return err({ fault: why, holdPoint: null, conditions: [] });
    }
  }

  #now(): Stamp {
    const { clock, run } = this.ports;
    return { at: clock.wallMs(), mono: clock.monoMs(), run };
  }

  async #refuse(
    why: Fault,
    order: RoomOrder | null,
    source: Source,
    before: readonly Sourced[],
    held: Pick<Extract<Fact, { type: 'order.refused' }>['data'], 'holdPoint' | 'conditions'> = {
      holdPoint: null,
      conditions: [],
    },
  ): Promise<OrderOutcome> {
    const fact: Fact = {
      type: 'order.refused',
      data: { order: order && toStorable(order), code: why.code, params: why.params, ...held },
    };
    await this.#append([...before, { fact, source }]);
    this.#watch.set();
    return { refusal: why };
  }

  /** Append first, then display. */
  async #append(facts: readonly Sourced[]): Promise<void> {
    const stamp = this.#now();
    const first = this.log.count;
    const entries = facts.map(({ fact, source }, index) =>
      toEntry(
        {
          caseId: this.log.caseId,
          seq: first + index,
          source,
          version: ENTRY_VERSION,
          ...stamp,
          ...(this.#orderId === undefined ? {} : { order: this.#orderId }),
        },
        fact,
      ),
    );
    await this.#writer.save(entries);
    this.#publish(entries, this.log.add(entries));
    if (this.#writer.unsavedCount === 0) void this.#keeper.settled(this.log);
  }

  #publish(entries: readonly Entry[], announcements: readonly Announcement[]): void {
    if (!this.log.setup) return;
    this.#view = null;
    const update = { view: this.view, entries, announcements };
    for (const subscriber of this.#subscribers) tell(subscriber, update);
  }

  /** What the wall does of its own accord; where it is no longer due, the next such moment is watched for. */
  async #actIfDue(order: RoomOrder, isDue: () => boolean): Promise<void> {
    if (isDue()) await this.#carryOut(order, 'wall', []);
    else this.#watch.set();
  }
}

/** One screen that fails must not keep the others, or the record, from going on; the error still surfaces. */
function tell(subscriber: (update: CaseUpdate) => void, update: CaseUpdate): void {
  try {
    subscriber(update);
  } catch (cause) {
    queueMicrotask(() => {
      throw cause;
    });
  }
}
