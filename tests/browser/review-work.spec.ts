/** Long works of the look back in a real browser: Stop, Continue, and what is found again at the next visit. */
import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { BrowserContext, Page } from '@playwright/test';

const COUNT = 120;
/** Laptop and tablet at the desk. */
const SIZES = [
  { width: 1366, height: 768 },
  { width: 1024, height: 768 },
];

let context: BrowserContext;
test.describe.configure({ mode: 'serial' });
test.beforeAll(async ({ browser, baseURL }) => {
  context = await browser.newContext({ ...(baseURL ? { baseURL } : {}), serviceWorkers: 'block' });
});
test.afterAll(() => context.close());

async function checkScreens(page: Page): Promise<void> {
  for (const size of SIZES) {
    await page.setViewportSize(size);
    expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
    const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(over).toBeLessThanOrEqual(0);
  }
}

test('[REV97] invented cases are stopped on the way and gone on with until all are there', async () => {
  test.setTimeout(240_000);
  const page = await context.newPage();
  await page.goto('/#/review');
  const add = page.getByRole('button', { name: `Add ${COUNT} invented demo cases` });
  await add.click();
  await expect(page.getByText(/^Adding [1-9]\d* of 120 invented cases$/)).toBeVisible({ timeout: 60_000 }); // prettier-ignore
  // Nothing else can be begun meanwhile.
  await expect(add).toBeDisabled();
  await page.getByRole('button', { name: 'Stop' }).click();
  await expect(page.getByText(/^Stopped at [1-9]\d* of 120 invented cases$/)).toBeVisible();
  await expect(page.locator('header progress')).toHaveCount(0);
  // What was added is shown, and stands in the list.
  await expect(page.locator('header b')).toHaveText(/^[1-9]\d* cases$/);
  await expect(page.getByText('No case yet.')).toHaveCount(0);
  await checkScreens(page);
  await page.getByRole('button', { name: 'Continue' }).click();
  await expect(page.getByRole('button', { name: 'Stop' })).toBeVisible();
  await expect(page.locator('header b')).toHaveText(`${COUNT} cases`, { timeout: 180_000 });
  await expect(page.locator('header progress')).toHaveCount(0, { timeout: 60_000 });
  // Two operations in two theatres, one of which offers other ways to go.
  await expect(page.getByRole('row', { name: /^Theatre 2/ })).toBeVisible();
  expect(await page.getByLabel('Alternative').locator('option').count()).toBeGreaterThan(1);
  await checkScreens(page);
  await page.close();
});

test('[REV99] resource hours are typed once and are there at the next visit', async () => {
  test.setTimeout(120_000);
  const page = await context.newPage();
  await page.goto('/#/review');
  const [from, hours] = [page.getByLabel('Resource hours from'), page.getByLabel('Hours a day')];
  await expect(from).toHaveValue('08:00', { timeout: 60_000 });
  await from.fill('07:00');
  await hours.fill('10,5');
  await hours.press('Tab');
  await expect(hours).toHaveValue('10.5');
  // Another visit, while this one may still be writing: a reload here could cut the write off.
  const next = await context.newPage();
  await expect(async () => {
    await next.goto('/#/review');
    await next.reload();
    await expect(next.getByLabel('Resource hours from')).toHaveValue('07:00', { timeout: 10_000 });
    await expect(next.getByLabel('Hours a day')).toHaveValue('10.5', { timeout: 1_000 });
  }).toPass({ timeout: 60_000 });
  await next.close();
  await page.close();
});
