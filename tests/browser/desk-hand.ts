/** A nurse's hand at the desk: leads a case to its end by pressing what is asked for, and scans packs. */
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
  const end = page.getByRole('region', { name: 'Needed now' }).getByText('Every step is done.');
  await leadUntil(page, () => end.isVisible());
}

/** The same as far as somebody wants it; of several values one that is preferred is given, else the first. */
export async function leadUntil(
  page: Page,
  isThere: () => Promise<boolean>,
  prefers: RegExp = LEADS_ON,
): Promise<void> {
  for (let presses = 0; presses < MOST_PRESSES; presses += 1) {
    if (await isThere()) return;
    if (await confirmReadBack(page)) continue;
    if (await offerValue(page, prefers)) continue;
    await page.keyboard.press(STEP_KEYS[presses % STEP_KEYS.length] ?? 'd');
    await page.waitForTimeout(60);
  }
  const needed = page.getByRole('region', { name: 'Needed now' });
  throw new Error(`The case is stuck at: ${(await needed.textContent()) ?? ''}`);
}

/** Confirms what is read back; false where nothing is. */
export async function confirmReadBack(page: Page): Promise<boolean> {
  const readBack = page.getByRole('group', { name: 'Read-back' });
  if (!(await readBack.isVisible())) return false;
  await expect(async () => {
    await page.keyboard.press('Enter');
    await expect(readBack).toBeHidden({ timeout: 300 });
  }).toPass();
  return true;
}

/** Gives a value that is still missing, one that is preferred if there is one; false where none is missing. */
export async function offerValue(page: Page, prefers = LEADS_ON): Promise<boolean> {
  // A value that is settled already may be changed; here only what is still missing is given.
  const values = page.locator('.wanted:has(svg.wanted) .values button');
  if ((await values.count()) === 0) return false;
  const leading = values.filter({ hasText: prefers });
  await ((await leading.count()) > 0 ? leading : values).first().click();
  await expect(page.getByRole('group', { name: 'Read-back' })).toBeVisible();
  return true;
}

/** Keys as a scanner sends them: all at once, Enter last. */
export async function scan(page: Page, text: string): Promise<void> {
  await page.evaluate((label) => {
    for (const key of [...label, 'Enter']) {
      const event = new KeyboardEvent('keydown', {
        key: key === '\u001d' ? ']' : key,
        ctrlKey: key === '\u001d',
        bubbles: true,
        cancelable: true,
      });
      document.body.dispatchEvent(event);
    }
  }, text);
}
