/** Several windows of one Chromium: who writes, who takes over, what becomes of orders. */
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { bundle, openBundledPage } from './bundled-page';
import type { WindowsPage } from './windows-page';

declare const windowsPage: WindowsPage;

let script: string;

test.beforeAll(async () => {
  script = await bundle('tests/browser/windows-page.ts');
});

const isWriter = (page: Page): Promise<boolean> => page.evaluate(() => windowsPage.isWriter());
const send = (page: Page, order: string): Promise<string> =>
  page.evaluate((it) => windowsPage.send(it), order);
const readItems = (page: Page): Promise<string[]> =>
  page.evaluate(() => windowsPage.items.map(({ text }) => text));

test('[WIN1] [WIN4] [WIN9] one window writes, every window can give orders, all see the same', async ({
  context,
  baseURL,
}) => {
  const first = await openBundledPage(context, baseURL, script);
  await expect.poll(() => isWriter(first)).toBe(true);
  const second = await openBundledPage(context, baseURL, script);
  const third = await openBundledPage(context, baseURL, script);
  expect(await send(second, 'one')).toBe('did one');
  expect(await send(third, 'two')).toBe('did two');
  expect(await send(first, 'three')).toBe('did three');
  expect([await isWriter(second), await isWriter(third)]).toEqual([false, false]);
  for (const page of [first, second, third]) {
    await expect.poll(() => readItems(page)).toEqual(['one', 'two', 'three']);
  }
});

test('[WIN2] [WIN6] [WIN10] a writer that dies is replaced, and nothing is lost or doubled', async ({
  context,
  baseURL,
}) => {
  const writer = await openBundledPage(context, baseURL, script);
  await expect.poll(() => isWriter(writer)).toBe(true);
  const followers = [
    await openBundledPage(context, baseURL, script),
    await openBundledPage(context, baseURL, script),
    await openBundledPage(context, baseURL, script),
  ] as const;
  const before = await Promise.all(followers.map((page, index) => send(page, `before ${index}`)));
  const crashed = writer.waitForEvent('crash');
  const devtools = await context.newCDPSession(writer);
  // The window's process dies without a word; the answer to this command dies with it.
  void devtools.send('Page.crash').catch(() => undefined);
  await crashed;
  const after = await Promise.all(followers.map((page, index) => send(page, `after ${index}`)));
  expect([...before, ...after]).toEqual(
    ['before', 'after'].flatMap((when) => [0, 1, 2].map((index) => `did ${when} ${index}`)),
  );
  const roles = await Promise.all(followers.map(isWriter));
  expect(roles.filter(Boolean)).toHaveLength(1);
  for (const page of followers) await expect.poll(() => readItems(page)).toHaveLength(6);
  const [items, ...others] = await Promise.all(followers.map(readItems));
  expect([...(items ?? [])].sort()).toEqual(
    ['after', 'before'].flatMap((when) => [0, 1, 2].map((index) => `${when} ${index}`)),
  );
  for (const other of others) expect(other).toEqual(items);
});
