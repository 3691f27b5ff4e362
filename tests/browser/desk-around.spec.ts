/** What surrounds the steps, at the desk, in a real browser, mostly by keyboard. */
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { AROUND_PROCEDURE } from './desk-procedure';

const FILE = {
  name: 'around.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify(AROUND_PROCEDURE)),
};
const track = (page: Page, title: string) =>
  page.getByRole('region', { name: 'Field track' }).getByRole('heading', { name: title });
const now = (page: Page) => page.getByRole('region', { name: 'Needed now' });

async function openCase(page: Page): Promise<void> {
  await page.setViewportSize({ width: 1366, height: 768 });
  await page.goto('/#/start/setup');
  await page.locator('input[type=file]').setInputFiles(FILE);
  await page.getByLabel('LEFT').check();
  await page.getByLabel('Demo, invented data').check();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(track(page, 'Stop and check')).toBeVisible();
}

async function answerChecklist(page: Page): Promise<void> {
  for (const left of ['3 of 3 open', '2 of 3 open', '1 of 3 open']) {
    await expect(now(page).getByText(left)).toBeVisible();
    await page.keyboard.press('y');
  }
  await expect(now(page).getByText('all answered')).toBeVisible();
  await page.keyboard.press('d');
  await expect(track(page, 'Count first')).toBeVisible();
}

async function count(page: Page, label: string, digits: string): Promise<void> {
  const line = now(page).getByRole('row').filter({ hasText: label });
  await expect(line).toHaveAttribute('aria-current', 'step');
  await page.keyboard.type(digits);
  await page.keyboard.press('Enter');
  await expect(line.getByText(/agrees|differs/)).toBeVisible();
}

async function countFirst(page: Page): Promise<void> {
  await count(page, 'Swabs', '10');
  await count(page, 'Sharps', '4');
  await page.keyboard.press('d');
  await expect(track(page, 'Measure the depth')).toBeVisible();
}

async function settle(page: Page, digits: string): Promise<void> {
  await page.keyboard.type(digits);
  await page.keyboard.press('Enter');
  const readBack = page.getByRole('group', { name: 'Read-back' });
  await expect(readBack).toBeVisible();
  await readBack.getByRole('button', { name: 'Confirm' }).click();
  await expect(readBack).toBeHidden();
}

test('[DSK31] a whole checklist is answered by keyboard, yes, no and not applicable', async ({
  page,
}) => {
  await openCase(page);
  await page.keyboard.press('d');
  await expect(now(page).getByRole('alert')).toContainText('The side agrees');
  await page.keyboard.press('x');
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('a');
  await page.keyboard.press('y');
  const lines = now(page).getByRole('listitem');
  await expect(lines.filter({ hasText: 'The side agrees' })).toContainText('✕ no');
  await expect(lines.filter({ hasText: 'Images on show' })).toContainText('not applicable');
  await expect(lines.filter({ hasText: 'Allergies known' })).toContainText('✓ yes');
});

test('[DSK32] a count that differs is told in words and holds what asks for it', async ({
  page,
}) => {
  await openCase(page);
  await answerChecklist(page);
  await countFirst(page);
  await settle(page, '24');
  await settle(page, '24');
  await page.keyboard.press('d');
  await expect(track(page, 'Count last')).toBeVisible();
  await count(page, 'Swabs', '9');
  await expect(now(page).getByRole('alert')).toContainText('Swabs 1 missing');
  await count(page, 'Sharps', '4');
  await page.keyboard.press('d');
  await expect(page.getByText('Held: Sign out')).toBeVisible();
  await expect(page.getByText('Last count does not agree').first()).toBeVisible();
});

test('[DSK33] before a settled size is changed, what relies on it is named; then it is in doubt until confirmed again', async ({
  page,
}) => {
  await openCase(page);
  await answerChecklist(page);
  await countFirst(page);
  await settle(page, '24');
  await settle(page, '24');
  await page.getByRole('button', { name: /^Change Depth/ }).click();
  const form = page.getByRole('group', { name: 'Change Depth' });
  await expect(form).toContainText('Post 24 mm');
  await form.getByRole('button', { name: 'Change Depth' }).click();
  await expect(now(page).getByRole('button', { name: 'Keep 24 mm' })).toBeVisible();
  await settle(page, '20');
  await expect(now(page)).toContainText('In doubt');
  await now(page).getByRole('button', { name: '24 mm is still right' }).click();
  const readBack = page.getByRole('group', { name: 'Read-back' });
  await readBack.getByRole('button', { name: 'Confirm' }).click();
  await expect(page.getByText('In doubt')).toHaveCount(0);
  await expect(page.locator('dd .settled')).toHaveText(['20 mm', '24 mm']);
});

test('[DSK34] the last order is named and taken back by its key', async ({ page }) => {
  await openCase(page);
  await answerChecklist(page);
  await expect(page.getByRole('button', { name: 'Take back: step done' })).toBeVisible();
  await page.keyboard.press('u');
  await expect(track(page, 'Stop and check')).toBeVisible();
});

test('[DSK35] another way on tells when it is chosen and takes a second press', async ({
  page,
}) => {
  await openCase(page);
  await answerChecklist(page);
  await countFirst(page);
  await page.getByRole('button', { name: 'Another way: Stop early' }).click();
  const form = page.getByRole('group', { name: 'Another way: Stop early' });
  await expect(form).toContainText('Where going on is not right.');
  await expect(track(page, 'Measure the depth')).toBeVisible();
  await form.getByRole('button', { name: 'Go this way: Stop early' }).click();
  await expect(track(page, 'Count last')).toBeVisible();
});

test('[DSK36] a role is handed over by a label, and the count that falls due with it is asked for', async ({
  page,
}) => {
  await openCase(page);
  await answerChecklist(page);
  await countFirst(page);
  await page.getByRole('tab', { name: 'Room' }).click();
  await page.getByRole('button', { name: 'Hand over: Nurse' }).click();
  await page.keyboard.type('nurse B');
  await page.keyboard.press('Enter');
  await expect(page.getByText('nurse B')).toBeVisible();
  await expect(now(page).getByRole('group', { name: 'Count: Relief count' })).toBeVisible();
});

test('[DSK37] the page does not scroll on a laptop in any of these states', async ({ page }) => {
  await openCase(page);
  const over = () =>
    page.evaluate(() => document.documentElement.scrollHeight - window.innerHeight);
  expect(await over()).toBeLessThanOrEqual(0);
  await answerChecklist(page);
  expect(await over()).toBeLessThanOrEqual(0);
  await countFirst(page);
  expect(await over()).toBeLessThanOrEqual(0);
});
