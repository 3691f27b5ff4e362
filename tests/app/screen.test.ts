/** The screen stays awake while a case is open, and is asked for again when it was let go. */
import { expect, test } from 'vitest';
import { keepScreenAwake } from '../../src/app/screen';
import { openSampleCase } from '../support/sample-case';

function createPage() {
  const listeners = new Set<() => void>();
  const sentinels: { release(): Promise<void>; isHeld: boolean }[] = [];
  const page = {
    visibilityState: 'visible' as DocumentVisibilityState,
    addEventListener: (_: string, callback: () => void) => listeners.add(callback),
  };
  const wakeLock = {
    request: () => {
      let onRelease: () => void = () => undefined;
      const sentinel = {
        isHeld: true,
        addEventListener: (_: string, callback: () => void) => (onRelease = callback),
        release: () => {
          sentinel.isHeld = false;
          onRelease();
          return Promise.resolve();
        },
      };
      sentinels.push(sentinel);
      return Promise.resolve(sentinel);
    },
  };
  const show = (state: DocumentVisibilityState): void => {
    page.visibilityState = state;
    // The browser lets go by itself when the page is hidden (Screen Wake Lock, "Handling document loss of visibility").
    if (state === 'hidden') for (const it of sentinels) if (it.isHeld) void it.release();
    for (const listener of listeners) listener();
  };
  return {
    page: page as unknown as Document,
    wakeLock: wakeLock as unknown as WakeLock,
    sentinels,
    show,
  };
}

const settle = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));

test('[SCR1] held while a case is open, regained when the window is seen again, let go at the end', async () => {
  const { page, wakeLock, sentinels, show } = createPage();
  const { session } = await openSampleCase();
  keepScreenAwake({ current: session, watch: () => () => undefined }, wakeLock, page);
  await settle();
  expect(sentinels.filter(({ isHeld }) => isHeld)).toHaveLength(1);
  show('hidden');
  await settle();
  expect(sentinels.filter(({ isHeld }) => isHeld)).toHaveLength(0);
  show('visible');
  await settle();
  expect(sentinels.filter(({ isHeld }) => isHeld)).toHaveLength(1);
  await session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
  await settle();
  expect(sentinels.filter(({ isHeld }) => isHeld)).toHaveLength(0);
});
