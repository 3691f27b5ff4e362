/** The circulating nurse's window beside a spoken case: packs are scanned, opened and implanted there. */
import type { Page } from '@playwright/test';
import type { RoomOrder } from '../../src/domain';
import { scan } from '../browser/desk-hand';

/** Opens it in the browser of the listening window; gives the hand that does an order there. */
export async function openPackDesk(listening: Page): Promise<(order: RoomOrder) => Promise<void>> {
  const page = await listening.context().newPage();
  await page.goto(listening.url().replace('#/desk', '#/implants'));
  await page.getByRole('region', { name: 'Implant list' }).waitFor();
  // A window behind another one is slowed down, its microphone's too.
  await listening.bringToFront();
  return async (order) => {
    if (order.type === 'label.scan') return scan(page, order.text);
    if (order.type !== 'pack.move') throw new Error(`Not for this desk: ${order.type}`);
    const label = order.event === 'opened' ? 'Opened' : 'Implanted';
    // By key: a click so soon after the last one, at the same place, counts as a double press.
    await page
      .locator('li.last')
      .getByRole('button', { name: new RegExp(`^${label}: `) })
      .press('Enter');
  };
}
