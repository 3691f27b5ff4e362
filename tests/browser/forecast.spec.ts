/**
 * When the running case will be done, on wall and desk in a real browser: on what it
 * rests, and what moves it. The clock of the page is moved by hand.
 */
import { expect, test } from '@playwright/test';
import type { BrowserContext, Page } from '@playwright/test';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import type { ReviewBenchPage } from '../bench/review-page';
import { bundle, openBundledPage } from './bundled-page';

declare const reviewBenchPage: ReviewBenchPage;

const PROCEDURE = 'reverse-shoulder-glenoid';
const MINUTE_MS = 60_000;
/** Laptop and tablet at the desk, two walls. */
const SCREENS = {
  desk: [{ width: 1366, height: 768 }, { width: 1024, height: 768 }], // prettier-ignore
  wall: [{ width: 1920, height: 1080 }, { width: 3840, height: 2160 }], // prettier-ignore
};

test.describe.configure({ timeout: 120_000 });

let context: BrowserContext;
test.beforeEach(async ({ browser, baseURL }) => {
  context = await browser.newContext({
    ...(baseURL ? { baseURL } : {}),
    serviceWorkers: 'block',
    timezoneId: 'Europe/London',
  });
});
test.afterEach(() => context.close());

/** Opens a demo case of the short operation on a page whose clock stands still until it is moved. */
async function openCase(): Promise<Page> {
  const page = await context.newPage();
  await page.clock.install({ time: new Date('2026-03-04T09:00:00Z') });
  await page.goto('/#/start/setup');
  await page.getByLabel('Reverse shoulder: glenoid').check();
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  return page;
}

const onDesk = (page: Page) => page.locator('header .times span').filter({ hasText: 'done about' });

interface Shown {
  readonly end: number;
  readonly low: number;
  readonly high: number;
  readonly basis: string;
}

/** What the desk says: minutes after midnight, and what it rests on. */
async function readDesk(page: Page): Promise<Shown> {
  const text = (await onDesk(page).textContent())?.replaceAll(/\s+/g, ' ').trim() ?? '';
  const [, end, low, high, basis = ''] =
    /^done about (\d\d:\d\d) .*?(\d\d:\d\d) to (\d\d:\d\d) (.*)$/.exec(text) ?? [];
  const minutes = (time = '') => time.split(':').reduce((sum, part) => sum * 60 + Number(part), 0);
  if (!end) throw new Error(`the desk says: ${text}`);
  return { end: minutes(end), low: minutes(low), high: minutes(high), basis };
}

/** Takes pictures for looking at, where `PICTURES` names a folder. */
async function shoot(page: Page, route: keyof typeof SCREENS, name: string): Promise<void> {
  const folder = process.env['PICTURES'];
  if (folder === undefined) return;
  await mkdir(folder, { recursive: true });
  for (const size of SCREENS[route]) {
    await page.setViewportSize(size);
    await page.screenshot({ path: path.join(folder, `${name}-${route}-${size.width}.png`) });
  }
}

test('[REV37] [WAL10] without earlier cases wall and desk say that it rests on the usual times', async () => {
  const page = await openCase();
  await page.keyboard.press('d');
  await expect(onDesk(page)).toContainText('usual times of the procedure');
  await shoot(page, 'desk', 'usual');
  await page.goto('/#/wall');
  const end = page.locator('header dl div').filter({ hasText: 'Done about' });
  await expect(end).toContainText(/Done about \d\d:\d[05]/);
  await expect(end.locator('.range')).toHaveText(/^\d\d:\d[05]–\d\d:\d[05], usual$/);
  await shoot(page, 'wall', 'usual');
});

test('[REV79] [REV36] after demo cases it rests on them, stays put while nothing happens, and moves later once a phase overruns', async ({
  baseURL,
}) => {
  const maker = await openBundledPage(context, baseURL, await bundle('tests/bench/review-page.ts'));
  await maker.evaluate(([count, id]) => reviewBenchPage.fill(count, id), [30, PROCEDURE] as const);
  await maker.close();
  const page = await openCase();
  await page.keyboard.press('d');
  await expect(onDesk(page)).toContainText(/from \d+ earlier cases/);
  const first = await readDesk(page);
  // Those that were abandoned are no measure: invented cases have a few.
  const counted = Number(/\d+/.exec(first.basis)?.[0]);
  expect(counted).toBeGreaterThan(20);
  expect(counted).toBeLessThanOrEqual(30);
  expect(first.low).toBeLessThan(first.end);
  expect(first.end).toBeLessThan(first.high);
  // Nobody does anything for half a minute: nothing has become known.
  await page.clock.runFor(0.5 * MINUTE_MS);
  expect(await readDesk(page)).toEqual(first);
  // Seventy minutes in the first phase: far beyond what any of these cases took for it.
  for (let minute = 0; minute < 70; minute += 5) await page.clock.runFor(5 * MINUTE_MS);
  const late = await readDesk(page);
  expect(late.basis).toBe(first.basis);
  expect(late.end).toBeGreaterThan(first.high);
  expect(late.low).toBeGreaterThanOrEqual(9 * 60 + 70);
  await shoot(page, 'desk', 'cases');
  await page.goto('/#/wall');
  const end = page.locator('header dl div').filter({ hasText: 'Done about' });
  await expect(end.locator('.range')).toHaveText(
    new RegExp(`^\\d\\d:\\d[05]–\\d\\d:\\d[05], ${counted} cases$`),
  ); // prettier-ignore
  await shoot(page, 'wall', 'cases');
});
