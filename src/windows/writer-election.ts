/**
 * Exactly one window writes. Each window asks for one lock; who holds it is the
 * writer until it resigns or dies, then the browser gives the lock to the one that
 * has waited longest. Promises nothing about what the writer has read: a new writer
 * reads the record before it serves.
 */
import type { Lock } from './lock';

/** `undecided` until the first answer of the lock; `resigned` for good. */
export type WindowRole = 'undecided' | 'writer' | 'follower' | 'resigned';

export interface WriterElection {
  role(): WindowRole;
  isWriter(): boolean;
  /** Calls back once, when this window becomes the writer, or at once if it is. */
  onElected(callback: () => void): void;
  /** Calls back at each change of role. Returns the function that calls it off. */
  onRole(callback: (role: WindowRole) => void): () => void;
  /** Gives the lock back, or stops waiting for it. */
  resign(): void;
  /**
   * Settles when this window has resigned. Rejects with the browser's reason if the lock
   * is taken away; the window is no writer from that moment.
   */
  readonly ended: Promise<void>;
}

/** Stands for election at once. Windows with the same lock name compete. */
export function createWriterElection(lock: Lock, name: string): WriterElection {
  const giveUp = new AbortController();
  const listeners = new Set<(role: WindowRole) => void>();
  let role: WindowRole = 'undecided';

  function become(next: WindowRole): void {
    if (role === next || role === 'resigned') return;
    role = next;
    for (const listener of [...listeners]) listener(next);
  }

  /** Holds the lock until this window resigns. */
  function write(): Promise<void> {
    if (giveUp.signal.aborted) return Promise.resolve();
    const resigned = new Promise<void>((resolve) => {
      giveUp.signal.addEventListener('abort', () => resolve(), { once: true });
    });
    become('writer');
    return resigned;
  }

  async function stand(): Promise<void> {
    try {
      if (await lock.tryHold(name, write)) return;
      if (giveUp.signal.aborted) return;
      become('follower');
      await lock.holdWhenFree(name, write, giveUp.signal);
    } catch (reason) {
      // Resigning while waiting aborts the request; anything else is news to the owner.
      if (!giveUp.signal.aborted) throw reason;
    } finally {
      become('resigned');
    }
  }

  return {
    role: () => role,
    isWriter: () => role === 'writer',
    onElected: (callback) => {
      if (role === 'writer') {
        callback();
        return;
      }
      const listener = (next: WindowRole): void => {
        if (next !== 'writer') return;
        listeners.delete(listener);
        callback();
      };
      listeners.add(listener);
    },
    onRole: (callback) => {
      listeners.add(callback);
      return () => listeners.delete(callback);
    },
    resign: () => {
      become('resigned');
      giveUp.abort();
    },
    ended: stand(),
  };
}
