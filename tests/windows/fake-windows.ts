/**
 * A browser with several windows, moved by hand: messages wait until they are
 * delivered, a lock falls free when its window is killed, time stands still.
 */
import type { Clock, Scheduler } from '../../src/domain';
import type { Channel, Hold, Lock, Message } from '../../src/windows';

export interface FakeWindow {
  readonly lock: Lock;
  readonly channel: Channel;
  /** The window dies: it hears nothing more, what it has not delivered is lost, its locks fall free. */
  kill(): void;
}

export interface FakeBrowser {
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  openWindow(): FakeWindow;
  /** Delivers messages, and lets promises run, until nothing moves any more. */
  settle(): Promise<void>;
  /** Moves both clocks and calls back what is due. */
  advance(ms: number): void;
}

interface Waiter {
  readonly owner: object;
  readonly hold: Hold;
  settle(): void;
}

/** Rounds of promises after which a browser without messages counts as still. */
const QUIET_ROUNDS = 30;

/** A browser without windows, at noon of an invented day. */
export function createFakeBrowser(): FakeBrowser {
  const ears = new Map<object, Set<(message: Message) => void>>();
  let queue: { from: object; message: Message }[] = [];
  let nowMs = 0;
  let timers: { dueMs: number; callback: () => void }[] = [];
  let holder: object | null = null;
  let waiters: Waiter[] = [];

  function grant(owner: object, hold: Hold): Promise<void> {
    holder = owner;
    return hold().then(() => free(owner));
  }

  function free(owner: object): void {
    if (holder !== owner) return;
    holder = null;
    const next = waiters.shift();
    if (next !== undefined) void grant(next.owner, next.hold).then(next.settle);
  }

  function deliverOne(): void {
    const next = queue.shift();
    if (next === undefined) return;
    for (const [window, callbacks] of ears) {
      if (window === next.from) continue;
      // Each window gets its own copy, as structured cloning gives it.
      for (const callback of [...callbacks]) callback(structuredClone(next.message));
    }
  }

  function openWindow(): FakeWindow {
    const self = {};
    ears.set(self, new Set());
    return {
      lock: {
        tryHold: async (_, hold) => {
          if (holder !== null) return false;
          await grant(self, hold);
          return true;
        },
        holdWhenFree: (_, hold, signal) =>
          new Promise((resolve, reject) => {
            const waiter: Waiter = { owner: self, hold, settle: resolve };
            signal.addEventListener('abort', () => {
              waiters = waiters.filter((other) => other !== waiter);
              reject(new DOMException('called off', 'AbortError'));
            });
            if (holder === null) void grant(self, hold).then(resolve);
            else waiters.push(waiter);
          }),
      },
      channel: {
        post: (message) => {
          if (ears.has(self)) queue.push({ from: self, message: structuredClone(message) });
        },
        listen: (callback) => {
          ears.get(self)?.add(callback);
          return () => ears.get(self)?.delete(callback);
        },
        close: () => ears.delete(self),
      },
      kill: () => {
        ears.delete(self);
        queue = queue.filter(({ from }) => from !== self);
        waiters = waiters.filter(({ owner }) => owner !== self);
        free(self);
      },
    };
  }

  return {
    openWindow,
    clock: { wallMs: () => nowMs, monoMs: () => nowMs },
    scheduler: {
      after: (delayMs, callback) => {
        const timer = { dueMs: nowMs + delayMs, callback };
        timers.push(timer);
        return () => {
          timers = timers.filter((other) => other !== timer);
        };
      },
    },
    settle: async () => {
      for (let quiet = 0; quiet < QUIET_ROUNDS; quiet += 1) {
        if (queue.length > 0) quiet = 0;
        deliverOne();
        await Promise.resolve();
      }
    },
    advance: (ms) => {
      nowMs += ms;
      const due = timers.filter(({ dueMs }) => dueMs <= nowMs);
      timers = timers.filter(({ dueMs }) => dueMs > nowMs);
      for (const { callback } of due) callback();
    },
  };
}
