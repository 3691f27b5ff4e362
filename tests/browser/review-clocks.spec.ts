/** Looking back on a case whose window came back, and on a record from before there were heads: both in a real browser. */
import { expect, test } from '@playwright/test';
import type { BrowserContext } from '@playwright/test';
import type { ReviewBenchPage } from '../bench/review-page';
import { bundle, openBundledPage } from './bundled-page';

declare const reviewBenchPage: ReviewBenchPage;

const PROCEDURE = 'reverse-shoulder-glenoid';
const OLD_CASES = 12;

let context: BrowserContext;

test.describe.configure({ mode: 'serial' });
test.beforeAll(async ({ browser, baseURL }) => {
  context = await browser.newContext({
    ...(baseURL ? { baseURL } : {}),
    serviceWorkers: 'block',
  });
});
test.afterAll(() => context.close());

test('[REV3] what a restart of the window lies in is marked as taken from the wall clock, on screen and on the sheet; nothing else is', async ({
  baseURL,
}) => {
  test.setTimeout(120_000);
  const maker = await openBundledPage(context, baseURL, await bundle('tests/bench/review-page.ts'));
  const awayMin = 40;
  await maker.evaluate(([id, min]) => reviewBenchPage.putResumed('resumed', id, 'reaming', min), [
    PROCEDURE,
    awayMin,
  ] as const);
  await maker.close();
  const page = await context.newPage();
  await page.goto('/#/review/resumed');
  const phase = (title: string) =>
    page.getByRole('row').filter({ has: page.getByRole('cell', { name: new RegExp(`^\\d+ ${title}$`) }) }); // prettier-ignore
  await expect(phase('Reaming').first()).toContainText('~ wall clock', { timeout: 30_000 });
  // The time away is in it: hours and minutes as the product writes them, in minutes at least those away.
  const [, total = ''] = /(\d+:\d\d) ~ wall clock/.exec((await phase('Reaming').first().textContent()) ?? '') ?? []; // prettier-ignore
  expect(Number.parseInt(total, 10)).toBeGreaterThanOrEqual(awayMin);
  await expect(page.locator('header .when')).toContainText('~ wall clock');
  expect(await phase('Exposure').count()).toBeGreaterThan(0);
  for (const row of await phase('Exposure').all()) await expect(row).not.toContainText('~');
  const marked = await page.getByRole('row').filter({ hasText: '~ wall clock' }).count();
  expect(marked).toBeLessThan((await page.getByRole('row').count()) / 2);
  await page.emulateMedia({ media: 'print' });
  const sheet = page.locator('.sheet');
  await expect(sheet.getByRole('heading', { name: /~ by the wall clock/ })).toBeVisible();
  await expect(sheet.getByRole('row', { name: /Reaming/ }).first()).toContainText('~');
  await expect(sheet.getByRole('row', { name: /Exposure/ }).first()).not.toContainText('~');
  await page.close();
});

test('[REC8] cases from before there were heads are put in the list at the first start, which says how far it is; once', async ({
  baseURL,
}) => {
  test.setTimeout(120_000);
  const maker = await openBundledPage(context, baseURL, await bundle('tests/bench/review-page.ts'));
  await maker.evaluate(([count, id]) => reviewBenchPage.fill(count, id), [OLD_CASES, PROCEDURE] as const); // prettier-ignore
  const count = await maker.evaluate(() => reviewBenchPage.forgetHeads());
  await maker.close();
  const start = async () => {
    const page = await context.newPage();
    await page.addInitScript(() => {
      const said: string[] = [];
      Object.assign(globalThis, { said });
      new MutationObserver((changes) => {
        for (const { addedNodes } of changes)
          for (const node of addedNodes)
            if (node instanceof HTMLElement && node.role === 'status') said.push(node.textContent);
      }).observe(document, { childList: true, subtree: true });
    });
    await page.goto('/#/review');
    await expect(page.locator('ul li a').first()).toBeVisible({ timeout: 60_000 });
    const lines = await page.evaluate(() => (globalThis as unknown as { said: string[] }).said);
    await page.close();
    return lines.filter((line) => line.startsWith('Putting older cases in the list'));
  };
  const first = await start();
  expect(first.length).toBe(count);
  expect([first[0], first.at(-1)]).toEqual([
    `Putting older cases in the list: 1 of ${count}`,
    `Putting older cases in the list: ${count} of ${count}`,
  ]);
  expect(await start()).toEqual([]);
});
