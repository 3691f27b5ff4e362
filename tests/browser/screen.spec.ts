/** The screen in a real browser: filled by two presses, kept awake, and never grabbed by what happens in a case. */
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';

async function openCase(page: Page): Promise<void> {
  await page.goto('/#/start/setup');
  await page.getByLabel('Reverse shoulder: glenoid').check();
  await page.getByText('LEFT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
}

const isFull = (page: Page) => page.evaluate(() => document.fullscreenElement !== null);

test('[SCR2] two presses on the wall fill the screen and let it go; at the start they do nothing', async ({
  page,
}) => {
  await page.goto('/#/start');
  await page.getByRole('heading').first().dblclick();
  await page.goto('/#/wall');
  await expect(page.getByText('No case is open')).toBeVisible();
  expect(await isFull(page)).toBe(false);
  await page.getByText('No case is open').dblclick();
  await expect.poll(() => isFull(page)).toBe(true);
  await page.getByText('No case is open').dblclick();
  await expect.poll(() => isFull(page)).toBe(false);
});

test('[SCR1] the browser’s own wake lock is held while a case is open, and asked for again when it let go', async ({
  page,
}) => {
  // The browser's lock itself, with a hand on it to let go as the browser does.
  await page.addInitScript(() => {
    const held: WakeLockSentinel[] = [];
    Object.assign(globalThis, { heldScreens: held });
    const { wakeLock } = navigator;
    const request = wakeLock.request.bind(wakeLock);
    wakeLock.request = async (type) => {
      const sentinel = await request(type);
      held.push(sentinel);
      return sentinel;
    };
  });
  const held = () =>
    page.evaluate(() => {
      const { heldScreens } = globalThis as unknown as { heldScreens: WakeLockSentinel[] };
      return heldScreens.map(({ released }) => !released);
    });
  await page.goto('/#/start');
  expect(await held()).toEqual([]);
  await openCase(page);
  await expect.poll(held).toEqual([true]);
  await page.evaluate(() => {
    const { heldScreens } = globalThis as unknown as { heldScreens: WakeLockSentinel[] };
    return heldScreens[0]?.release();
  });
  await expect.poll(held).toEqual([false, true]);
});

test('[SCR3] entries that come in take no focus, open no dialog and load no page', async ({
  page,
  context,
}) => {
  await openCase(page);
  const other = await context.newPage();
  await other.goto('/#/desk');
  await expect(other.getByRole('region', { name: 'Field track' })).toBeVisible();
  // The nurse is writing why the case ends early.
  await page.getByRole('button', { name: 'Close the case…' }).click();
  await page.getByRole('button', { name: 'Abandoned' }).click();
  const field = page.getByLabel(/Why it ended early/);
  await field.fill('half a sent');
  const intrusions: string[] = [];
  page.on('dialog', (dialog) => {
    intrusions.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('framenavigated', (frame) => intrusions.push(`page: ${frame.url()}`));
  context.on('page', (opened) => intrusions.push(`window: ${opened.url()}`));
  await field.evaluate((it) => {
    it.addEventListener('blur', () => {
      Object.assign(globalThis, { wasLeft: true });
    });
  });
  // Steps, a refusal, a read-back that comes and is confirmed, all from elsewhere.
  const now = other.getByRole('region', { name: 'Field track' });
  await other.keyboard.press('d');
  await expect(now.getByText('Clear the cartilage')).toBeVisible();
  await other.keyboard.press('d');
  await expect(now.getByText('Place the guide pin')).toBeVisible();
  await other.keyboard.press('d');
  await other.locator('.wanted:has(svg.wanted) .values button').first().click();
  await expect(page.getByRole('group', { name: 'Read-back' })).toBeVisible();
  await expect(async () => {
    await other.keyboard.press('Enter');
    await expect(page.getByRole('group', { name: 'Read-back' })).toBeHidden({ timeout: 300 });
  }).toPass();
  await expect(field).toBeFocused();
  await expect(field).toHaveValue('half a sent');
  expect(await page.evaluate(() => 'wasLeft' in globalThis)).toBe(false);
  expect(intrusions).toEqual([]);
});
