/**
 * A lock that one window at a time can hold, and that falls free when its window
 * dies. The port, and the browser's own locks behind it.
 */

/** What a holder does with the lock: it is held until the promise settles. */
export type Hold = () => Promise<void>;

export interface Lock {
  /** Runs `hold` if the lock is free now. Resolves false, without running it, if it is not. */
  tryHold(name: string, hold: Hold): Promise<boolean>;
  /** Waits for the lock, then runs `hold`. Rejects when the signal calls the waiting off. */
  holdWhenFree(name: string, hold: Hold, signal: AbortSignal): Promise<void>;
}

/** The browser's locks, shared by all windows of one origin (Web Locks API). */
export function createWebLock(locks: LockManager): Lock {
  return {
    tryHold: (name, hold) =>
      locks.request(name, { ifAvailable: true }, async (lock) => {
        if (lock === null) return false;
        await hold();
        return true;
      }),
    holdWhenFree: (name, hold, signal) => locks.request(name, { signal }, hold),
  };
}
