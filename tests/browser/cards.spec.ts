/**
 * A voice card from the first word to the case that hears with it, in the built product:
 * people speak into PulseAudio's room, everything else is the browser's own.
 */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Browser, Page } from '@playwright/test';
import { readFile } from 'node:fs/promises';
import { listenAt, openBrowserIn, sayUntil } from './listening-desk';
import { LoopbackRoom } from './loopback-room';

const LONG_MS = 60_000;
/** What the invented surgeon has recordings of and a card asks for. */
const SPOKEN = ['step done', 'confirm', 'wrong cancel that', 'what is next', 'screw locking'];

test.skip(!LoopbackRoom.isPossible, 'Needs the Debian package "pulseaudio".');

let room: LoopbackRoom;
let browser: Browser;
test.beforeEach(async () => {
  room = await LoopbackRoom.open();
  browser = await openBrowserIn(room);
});
test.afterEach(async () => {
  await browser.close();
  await room.close();
});

/** A page that counts the cards which its listeners are told. */
async function openPage(): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  context.setDefaultTimeout(30_000);
  const page = await context.newPage();
  await page.addInitScript(() => {
    Reflect.deleteProperty(window, 'showSaveFilePicker');
    const told: unknown[] = [];
    Reflect.set(window, 'toldCards', told);
    const { postMessage } = Worker.prototype as { postMessage: (...args: unknown[]) => void };
    Worker.prototype.postMessage = function (this: Worker, ...args: unknown[]) {
      const [message] = args as [{ type?: string; cards?: { label: string; takes: unknown[] }[] }];
      if (message.type === 'cards')
        told.push(message.cards?.map(({ label, takes }) => `${label} ${takes.length}`));
      postMessage.apply(this, args);
    } as Worker['postMessage'];
  });
  return page;
}

const told = (page: Page) => page.evaluate(() => Reflect.get(window, 'toldCards') as unknown);

async function look(page: Page, name: string): Promise<void> {
  const found = await new AxeBuilder({ page }).analyze();
  expect(found.violations).toEqual([]);
  for (const [width, height] of [
    [1920, 1080],
    [1024, 768],
    [1366, 768],
  ] as const) {
    // prettier-ignore
    await page.setViewportSize({ width, height });
    const excess = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(excess).toBeLessThanOrEqual(0);
    if (process.env['SHOTS'])
      await page.screenshot({
        path: `${process.env['SHOTS']}/${name}-${width}.png`,
        fullPage: true,
      });
  }
}

/** Reads what there are recordings of, leaves the rest out, both rounds. */
async function readCard(page: Page): Promise<void> {
  const phrase = page.locator('.phrase');
  const place = page.getByText(/^\d+ of \d+$/);
  for (;;) {
    // The screen goes by itself after the last one.
    if (await page.getByText('is kept').isVisible()) return;
    const [text, before] = [await phrase.textContent(), await place.textContent()];
    const words = (text ?? '').replace('theatre wall ', '').trim();
    if (SPOKEN.includes(words)) await room.say({ who: 'surgeon', words, pauseS: 1 });
    else await page.getByRole('button', { name: 'Leave this one out' }).click();
    await expect(async () => {
      const isOver = await page.getByText('is kept').isVisible();
      const now = isOver ? '' : await place.textContent({ timeout: 1_000 });
      expect(now).not.toBe(before);
    }).toPass({ timeout: LONG_MS });
  }
}

const step = (page: Page, title: string) =>
  page.getByRole('region', { name: 'Field track' }).getByText(title);

test('[CARD15] a card is read, tried, saved, deleted, taken in again, and heard with in a case, also after a reload', async ({
  baseURL,
}) => {
  test.setTimeout(420_000);
  const base = baseURL ?? '';
  const page = await openPage();
  await page.goto(`${base}#/voice/cards`);
  await page.getByLabel('Role').fill('surgeon A');
  await page.getByLabel('Sizes of').selectOption('reverse-shoulder-glenoid');
  await look(page, 'list');
  await page.getByRole('button', { name: 'Read it' }).click();
  await page.getByRole('button', { name: 'Switch the microphone on' }).click();
  await expect(page.getByRole('button', { name: 'Pause' })).toBeVisible({ timeout: LONG_MS });
  await sayUntil(room, 'step done', page.getByText('“theatre wall step done” is taken.'));
  await look(page, 'read');
  await page.getByRole('button', { name: 'Say the last one again' }).click();
  await expect(page.locator('.phrase')).toHaveText('theatre wall step done');
  await readCard(page);

  await expect(page.getByRole('table')).toContainText('theatre wall step done', {
    timeout: LONG_MS,
  });
  await page.getByRole('button', { name: 'Start the test' }).click();
  await expect(page.getByText('Listens. Say what')).toBeVisible({ timeout: LONG_MS });
  await sayUntil(room, 'step done', page.getByLabel('Heard').getByText('step done'));
  await look(page, 'result');
  await page.getByRole('button', { name: 'Done', exact: true }).click();

  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the file of surgeon A' }).click();
  const file = await (await downloading).path();
  expect(JSON.parse(await readFile(file, 'utf8'))).toMatchObject({
    label: 'surgeon A',
    version: 1,
  });
  await page.getByRole('button', { name: 'Delete the card of surgeon A…' }).click();
  await page.getByRole('button', { name: 'Delete the card of surgeon A for good' }).click();
  await expect(page.getByText('No voice card yet.')).toBeVisible();
  await page.locator('input[type=file]').setInputFiles(file);
  await expect(page.getByText('Taken in:')).toBeVisible();

  await page.goto(`${base}#/start/setup`);
  await page.getByLabel('Reverse shoulder: glenoid').check();
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByLabel('Surgeon’s voice card').selectOption({ label: 'surgeon A, version 1' });
  await look(page, 'setup');
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await listenAt(page);
  expect(await told(page)).toContainEqual(['surgeon A 10']);
  await sayUntil(room, 'step done', step(page, 'Clear the cartilage'));

  await page.reload();
  await listenAt(page);
  expect(await told(page)).toEqual([['surgeon A 10']]);
  await sayUntil(room, 'step done', step(page, 'Place the guide pin'));
  await page.goto(`${base}#/voice/cards`);
  await page.getByRole('button', { name: 'Delete the card of surgeon A…' }).click();
  await page.getByRole('button', { name: 'Delete the card of surgeon A for good' }).click();
  await expect(page.getByText('is used in the open case')).toBeVisible();
});
