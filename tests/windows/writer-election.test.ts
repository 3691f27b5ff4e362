/** Who writes, when windows come, resign and die. */
import { expect, test } from 'vitest';
import { createWriterElection } from '../../src/windows';
import type { Lock, WindowRole } from '../../src/windows';
import { createFakeBrowser } from './fake-windows';

function openWindows(count: number) {
  const browser = createFakeBrowser();
  const windows = Array.from({ length: count }, () => {
    const window = browser.openWindow();
    return { ...window, election: createWriterElection(window.lock, 'writer') };
  });
  const roles = (): WindowRole[] => windows.map(({ election }) => election.role());
  return { browser, windows, roles };
}

test('[WIN1] of several windows exactly one writes', async () => {
  const { browser, roles } = openWindows(4);
  await browser.settle();
  expect(roles()).toEqual(['writer', 'follower', 'follower', 'follower']);
});

test('[WIN1] a lone window writes, and says so even to who asks late', async () => {
  const { browser, windows } = openWindows(1);
  let elected = 0;
  windows[0]?.election.onElected(() => (elected += 1));
  await browser.settle();
  windows[0]?.election.onElected(() => (elected += 1));
  expect(elected).toBe(2);
});

test('[WIN2] when the writer dies, the follower that waited longest takes over', async () => {
  const { browser, windows, roles } = openWindows(3);
  await browser.settle();
  const heard: string[] = [];
  windows.forEach(({ election }, index) => election.onElected(() => heard.push(`window ${index}`)));
  windows[0]?.kill();
  await browser.settle();
  expect(roles().slice(1)).toEqual(['writer', 'follower']);
  expect(heard).toEqual(['window 0', 'window 1']);
});

test('[WIN2] a writer that resigns hands over and never writes again', async () => {
  const { browser, windows, roles } = openWindows(2);
  await browser.settle();
  windows[0]?.election.resign();
  expect(roles()[0]).toBe('resigned');
  await browser.settle();
  expect(roles()).toEqual(['resigned', 'writer']);
  windows[1]?.kill();
  await browser.settle();
  expect(roles()[0]).toBe('resigned');
});

test('[WIN2] a follower that resigns is passed over', async () => {
  const { browser, windows, roles } = openWindows(3);
  await browser.settle();
  windows[1]?.election.resign();
  await windows[1]?.election.ended;
  windows[0]?.kill();
  await browser.settle();
  expect(roles().slice(1)).toEqual(['resigned', 'writer']);
});

test('[WIN3] a lock that is taken away ends writing, with the reason', async () => {
  let takeAway: (reason: Error) => void = () => undefined;
  const lock: Lock = {
    tryHold: (_, hold) => {
      void hold();
      return new Promise((_, reject) => (takeAway = reject));
    },
    holdWhenFree: () => Promise.reject(new Error('not reached')),
  };
  const election = createWriterElection(lock, 'writer');
  expect(election.isWriter()).toBe(true);
  takeAway(new DOMException('stolen', 'AbortError'));
  await expect(election.ended).rejects.toThrow('stolen');
  expect(election.role()).toBe('resigned');
});
