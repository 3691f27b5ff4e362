/** Leads a case to its end at the desk, as a nurse does who follows the steps: presses what is asked for. */
import { expect } from '@playwright/test';
import type { Page } from '@playwright/test';

/** Enough for any built-in procedure; a case that needs more is stuck. */
const MOST_PRESSES = 400;
/** Answers that lead on where another would go round again. */
const LEADS_ON = /seats evenly|even|stable|as planned/i;
/** What moves a step on: done at the wound, begin there, done at the back table, begin there. */
const STEP_KEYS = ['d', 't', 's', 'Shift+S'] as const;

/** Presses until every step is done. Throws where the case no longer moves. */
export async function leadToTheEnd(page: Page): Promise<void> {
  const needed = page.getByRole('region', { name: 'Needed now' });
  const end = needed.getByText('Every step is done.');
  for (let presses = 0; presses < MOST_PRESSES; presses += 1) {
    if (await end.isVisible()) return;
    if (await confirmReadBack(page)) continue;
    if (await offerValue(page)) continue;
    await page.keyboard.press(STEP_KEYS[presses % STEP_KEYS.length] ?? 'd');
    await page.waitForTimeout(60);
  }
  throw new Error(`The case is stuck at: ${(await needed.textContent()) ?? ''}`);
}

async function confirmReadBack(page: Page): Promise<boolean> {
  const readBack = page.getByRole('group', { name: 'Read-back' });
  if (!(await readBack.isVisible())) return false;
  await expect(async () => {
    await page.keyboard.press('Enter');
    await expect(readBack).toBeHidden({ timeout: 300 });
  }).toPass();
  return true;
}

async function offerValue(page: Page): Promise<boolean> {
  // A value that is settled already may be changed; here only what is still missing is given.
  const values = page.locator('.wanted:has(svg.wanted) .values button');
  if ((await values.count()) === 0) return false;
  const leading = values.filter({ hasText: LEADS_ON });
  await ((await leading.count()) > 0 ? leading : values).first().click();
  await expect(page.getByRole('group', { name: 'Read-back' })).toBeVisible();
  return true;
}
