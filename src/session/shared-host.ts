/**
 * The case as all windows of this machine share it. One window writes; the others
 * follow and pass orders on. When the writer's window dies, the next one takes the
 * case up from the record, or from what it has followed where there is no disk.
 */
import { fault, ok } from '../domain';
import type {
  AnglePlan,
  CaseId,
  CaseSetup,
  Entry,
  Fault,
  HeardPhrase,
  RoomOrder,
  Result,
  Source,
} from '../domain';
import type { Channel, EntryFeed, OrderRelay, WriterElection } from '../windows';
import { CaseHost } from './case-host';
import { CaseLog } from './kept/case-log';
import type { CaseSettings } from './kept/case-log';
import type { SessionPorts } from './case-session';
import { FollowedCase, unreachedOutcome } from './followed-case';
import type { SavingStatus } from './followed-case';
import type { OrderOutcome, RunningCase } from './running-case';

/** What one window asks the writing one to do. */
export type WindowRequest =
  | { readonly kind: 'which' }
  | { readonly kind: 'open'; readonly setup: CaseSetup; readonly sheet: AnglePlan | null }
  | {
      readonly kind: 'order';
      readonly order: RoomOrder;
      readonly source: Source;
      /** What the giver had seen. */
      readonly asOf: number | undefined;
    }
  | { readonly kind: 'heard'; readonly heard: HeardPhrase };

/** What it answers. */
export interface WindowReply {
  readonly caseId: CaseId | null;
  readonly refusal: Fault | null;
}

interface StatusMessage extends SavingStatus {
  readonly kind: 'session.saving';
  readonly caseId: CaseId;
}

/** The windows of this machine, as ports. */
export interface WindowPorts {
  readonly channel: Channel;
  readonly election: WriterElection;
  readonly relay: OrderRelay<WindowRequest, WindowReply>;
  readonly feed: EntryFeed<Entry>;
}

/** How far back an order is looked for: far more entries than can follow in the time an order waits. */
const RECALLED_ENTRIES = 500;

export class SharedHost {
  readonly #watchers = new Set<() => void>();
  readonly #own: CaseHost;
  #followed: {
    readonly caseId: CaseId;
    readonly running: FollowedCase;
    readonly stop: () => void;
  } | null = null;
  /** The case that this window has asked the feed for. */
  #asked: CaseId | null = null;
  #problem: Fault | null = null;

  constructor(
    ports: SessionPorts,
    private readonly windows: WindowPorts,
    private readonly settings: CaseSettings,
    newCaseId: () => CaseId,
  ) {
    this.#own = new CaseHost(ports, settings, newCaseId);
    this.#own.watch(() => {
      this.#shareOwn();
      this.#notify();
    });
  }

  /** Takes this window's place among the others; resolves when a case can be shown. */
  async join(): Promise<void> {
    const { election, feed, channel } = this.windows;
    feed.onOtherTopic((topic) => {
      if (!election.isWriter()) this.#follow(topic as CaseId);
    });
    channel.listen((message) => {
      if (message.kind !== 'session.saving') return;
      const status = message as StatusMessage;
      if (status.caseId === this.#followed?.caseId) this.#followed.running.takeSaving(status);
    });
    await new Promise<void>((resolve) => {
      election.onElected(() => {
        void this.#takeOver().then(resolve);
      });
      const asFollower = () => {
        void this.#askWhich().then(resolve);
      };
      if (election.role() === 'follower') asFollower();
      else
        election.onRole((role) => {
          if (role === 'follower') asFollower();
        });
    });
  }

  get current(): RunningCase | null {
    return this.#own.current ?? this.#followed?.running ?? null;
  }

  get isWriter(): boolean {
    return this.windows.election.isWriter();
  }

  /** Why the case that was left open could not be taken up; null where all is well. */
  get problem(): Fault | null {
    return this.#problem;
  }

  watch(watcher: () => void): () => void {
    this.#watchers.add(watcher);
    return () => this.#watchers.delete(watcher);
  }

  async open(setup: CaseSetup, sheet: AnglePlan | null = null): Promise<Result<void, Fault>> {
    if (this.isWriter) return this.#own.open(setup, sheet);
    const sent = await this.windows.relay.send({ kind: 'open', setup, sheet });
    if (!sent.ok) return sent;
    if (sent.value.refusal) return { ok: false, error: sent.value.refusal };
    if (sent.value.caseId) this.#follow(sent.value.caseId);
    return ok(undefined);
  }

  /** Stops showing a case in this window; its record stays. */
  leave(): void {
    this.#own.leave();
    this.#dropFollowed();
    this.#notify();
  }

  /** The answer to an order that a window which is gone has carried out: its entries carry the id. */
  recall(id: string): WindowReply | null {
    const running = this.#own.current;
    const answered = (running?.entriesFrom(recentFrom(running)) ?? []).filter(
      ({ order }) => order === id,
    );
    if (answered.length === 0) return null;
    const refused = answered.find((entry) => entry.type === 'order.refused');
    const refusal = refused ? fault(refused.data.code, refused.data.params) : null;
    return { caseId: this.#caseId(), refusal };
  }

  /** This window writes from now on. */
  async #takeOver(): Promise<void> {
    const followed = this.#followed;
    const taken = followed
      ? await this.#own.adopt(followed.caseId, followed.running.handOver())
      : await this.#own.resumeOpenCase();
    this.#problem = taken.ok ? null : taken.error;
    if (taken.ok) this.#dropFollowed();
    this.windows.feed.answerFrom(async (topic, from) => {
      const running = this.#own.current;
      if (running?.view.caseId !== topic) return [];
      await running.untilWhole();
      return running.entriesFrom(from);
    });
    this.windows.relay.serve((request, id) => this.#answer(request, id));
    this.#notify();
  }

  async #answer(request: WindowRequest, id: string): Promise<WindowReply> {
    if (request.kind === 'open') {
      const opened = await this.#own.open(request.setup, request.sheet, id);
      return { caseId: this.#caseId(), refusal: opened.ok ? null : opened.error };
    }
    const running = this.#own.current;
    if (request.kind === 'which') return { caseId: this.#caseId(), refusal: null };
    if (!running) return { caseId: null, refusal: fault('case-unknown', { name: '' }) };
    const { refusal } =
      request.kind === 'order'
        ? await running.submit(request.order, request.source, request.asOf, id)
        : await running.hear(request.heard, id);
    return { caseId: this.#caseId(), refusal };
  }

  #caseId(): CaseId | null {
    return this.#own.current?.view.caseId ?? null;
  }

  async #askWhich(): Promise<void> {
    const reply = await this.windows.relay.send({ kind: 'which' });
    if (reply.ok && reply.value.caseId) this.#follow(reply.value.caseId);
    else if (!reply.ok) this.#problem = reply.error;
    this.#notify();
  }

  /** Tells the others about the case that this window writes. */
  #shareOwn(): void {
    const running = this.#own.current;
    if (!running) return;
    const { caseId } = running.view;
    // Who lacks older ones asks for them.
    this.windows.feed.publish(caseId, running.entriesFrom(recentFrom(running)));
    running.subscribe(({ view, entries }) => {
      if (entries.length > 0) this.windows.feed.publish(caseId, entries);
      const { unsavedCount, storageFault } = view;
      this.windows.channel.post({
        kind: 'session.saving',
        caseId,
        unsavedCount,
        storageFault,
      } as StatusMessage);
    });
  }

  /** Follows a case of another window; its first entries say which procedure it is. */
  #follow(caseId: CaseId): void {
    if (this.#asked === caseId) return;
    this.#dropFollowed();
    this.#asked = caseId;
    const stop = this.windows.feed.follow(caseId, 0, (entries) => {
      const followed = this.#followed;
      if (followed?.caseId === caseId) followed.running.take(entries);
      else this.#begin(caseId, entries, stop);
    });
  }

  #begin(caseId: CaseId, entries: readonly Entry[], stop: () => void): void {
    const log = CaseLog.rebuild(entries, this.settings);
    if (!log.ok) {
      this.#problem = log.error;
      this.#notify();
      return;
    }
    const running = new FollowedCase(log.value, (message) => this.#forward(message));
    this.#followed = { caseId, running, stop };
    this.#notify();
  }

  async #forward(message: WindowRequest): Promise<OrderOutcome> {
    const sent = await this.windows.relay.send(message);
    return sent.ok ? { refusal: sent.value.refusal } : unreachedOutcome(sent.error);
  }

  #dropFollowed(): void {
    this.#followed?.stop();
    this.#followed = null;
    this.#asked = null;
  }

  #notify(): void {
    for (const watcher of this.#watchers) watcher();
  }
}

/** Where the latest entries begin, of which a case has a few hundred at hand. */
function recentFrom({ view }: RunningCase): number {
  return Math.max(0, view.entryCount - RECALLED_ENTRIES);
}
