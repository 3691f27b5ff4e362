/**
 * Carries orders from any window to the one that writes, and the answer back, at
 * most once. Each request has an id. The writer answers an id it has seen with the
 * answer it gave; requests without an answer are sent again, under their id, when a
 * new writer takes over, and every window overhears answers, so a new writer knows
 * what the old one has done. A request that is too old is not carried out at all.
 *
 * An order that a dead writer carried out without answering is found by `recall`,
 * because the record keeps the id. Limits: a wall clock that is set back while a request waits makes it live
 * longer. The last `REMEMBERED_ANSWERS` answers are remembered.
 */
import { err, fault, ok } from '../domain';
import type { Clock, Fault, Result, Scheduler } from '../domain';
import { createAnswerBook } from './answer-book';
import type { Channel } from './channel';
import { isRelayMessage } from './relay-messages';
import type { RelayMessage, RequestId } from './relay-messages';

export interface OrderRelayOptions<Reply> {
  readonly channel: Channel;
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  /** Makes an id that no other window makes. */
  newId(): string;
  /** How long an order may wait for its writer, in milliseconds. */
  readonly timeoutMs: number;
  /** Looks an id up in the record: the answer to an order that a dead writer has carried out. */
  recall?(id: RequestId): Promise<Reply | null>;
}

export interface OrderRelay<Request, Reply> {
  /** Hands an order to the writer, which may be this window. Faults: `window-unreachable`. */
  send(request: Request): Promise<Result<Reply, Fault>>;
  /**
   * This window writes from now on: call it when the record has been read. Orders are
   * handled one at a time; a handler that rejects leaves its sender without an answer.
   * Returns the function that ends it, for a window that is no longer the writer.
   */
  serve(handle: (request: Request, id: RequestId) => Promise<Reply>): () => void;
  /** Stops listening. Orders that still wait are answered with `window-unreachable`. */
  close(): void;
}

/** How much longer a sender waits than an order is valid, so that an answer given in time arrives in time. */
const GRACE_MS = 500;

interface Waiting<Request, Reply> {
  readonly request: Request;
  readonly validUntilMs: number;
  settle(result: Result<Reply, Fault>): void;
}

/** Joins this window to the others on the channel. */
export function createOrderRelay<Request, Reply>(
  options: OrderRelayOptions<Reply>,
): OrderRelay<Request, Reply> {
  const { channel, clock, scheduler, timeoutMs } = options;
  const waiting = new Map<RequestId, Waiting<Request, Reply>>();
  const answers = createAnswerBook<Reply>();
  let handle: ((request: Request, id: RequestId) => Promise<Reply>) | null = null;
  let lastOrder: Promise<unknown> = Promise.resolve();

  const post = (message: RelayMessage<Request, Reply>): void => channel.post(message);

  /** The answer to a request: the one already given, or the one that carrying it out gives. */
  function answer(id: RequestId, request: Request, validUntilMs: number): Promise<Reply | null> {
    const work = handle;
    if (work === null) return Promise.resolve(null);
    return answers.once(id, () => {
      const turn = lastOrder.then(async () => {
        const recalled = (await options.recall?.(id)) ?? null;
        if (recalled !== null) return recalled;
        return clock.wallMs() > validUntilMs ? null : work(request, id);
      });
      // The next order takes its turn whether or not this one failed.
      lastOrder = turn.catch(() => undefined);
      return turn;
    });
  }

  function settle(id: RequestId, result: Result<Reply, Fault>): void {
    waiting.get(id)?.settle(result);
    waiting.delete(id);
  }

  async function answerHere(id: RequestId, order: Waiting<Request, Reply>): Promise<void> {
    const reply = await answer(id, order.request, order.validUntilMs);
    if (reply !== null) settle(id, ok(reply));
  }

  async function answerThere(id: RequestId, request: Request, validUntilMs: number): Promise<void> {
    const reply = await answer(id, request, validUntilMs);
    if (reply !== null) post({ kind: 'relay.reply', id, reply });
  }

  const stopListening = channel.listen((message) => {
    if (!isRelayMessage<Request, Reply>(message)) return;
    switch (message.kind) {
      case 'relay.request':
        void answerThere(message.id, message.request, message.validUntilMs);
        return;
      case 'relay.reply':
        answers.overhear(message.id, message.reply);
        settle(message.id, ok(message.reply));
        return;
      case 'relay.serving':
        for (const [id, { request, validUntilMs }] of waiting) {
          post({ kind: 'relay.request', id, request, validUntilMs });
        }
    }
  });

  return {
    send: (request) => {
      const id = options.newId();
      const validUntilMs = clock.wallMs() + timeoutMs;
      return new Promise((resolve) => {
        const cancel = scheduler.after(timeoutMs + GRACE_MS, () =>
          settle(id, unreachable(timeoutMs)),
        );
        const order: Waiting<Request, Reply> = {
          request,
          validUntilMs,
          settle: (result) => {
            cancel();
            resolve(result);
          },
        };
        waiting.set(id, order);
        if (handle === null) post({ kind: 'relay.request', id, request, validUntilMs });
        else void answerHere(id, order);
      });
    },
    serve: (newHandle) => {
      handle = newHandle;
      post({ kind: 'relay.serving' });
      for (const [id, order] of waiting) void answerHere(id, order);
      return () => {
        if (handle === newHandle) handle = null;
      };
    },
    close: () => {
      stopListening();
      for (const id of [...waiting.keys()]) settle(id, unreachable(timeoutMs));
    },
  };
}

function unreachable(timeoutMs: number): Result<never, Fault> {
  return err(fault('window-unreachable', { timeoutMs: String(timeoutMs) }));
}
