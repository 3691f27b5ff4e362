/**
 * The screen of this window, kept awake while a case is open. The browser lets go of the
 * lock whenever the window is hidden; it is asked for again as soon as the window is seen.
 */
import type { SharedHost } from '../session';

/** Holds the screen awake while a case runs (Screen Wake Lock). A browser that refuses is asked again at the next change. */
export function keepScreenAwake(
  host: Pick<SharedHost, 'current' | 'watch'>,
  wakeLock: WakeLock | undefined,
  page: Document,
): void {
  let held: WakeLockSentinel | null = null;
  let isAsking = false;
  let stop: () => void = () => undefined;

  async function settle(): Promise<void> {
    const running = host.current;
    const isWanted = running !== null && running.view.status !== 'closed';
    if (!isWanted) {
      await held?.release();
      return;
    }
    if (held !== null || isAsking || wakeLock === undefined || page.visibilityState !== 'visible') return; // prettier-ignore
    isAsking = true;
    try {
      const sentinel = await wakeLock.request('screen');
      held = sentinel;
      sentinel.addEventListener('release', () => {
        if (held === sentinel) held = null;
        void settle();
      });
    } catch (reason) {
      // Low battery, or a policy: the screen may go dark, the case goes on. Asked again at the next entry.
      console.warn(`wake lock: ${String(reason)}`);
    } finally {
      isAsking = false;
    }
  }

  const follow = (): void => {
    stop();
    stop = host.current?.subscribe(() => void settle()) ?? (() => undefined);
    void settle();
  };
  page.addEventListener('visibilitychange', () => void settle());
  host.watch(follow);
  follow();
}
