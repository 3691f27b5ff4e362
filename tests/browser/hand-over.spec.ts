/**
 * A role handed over in a real browser, with the newcomer's voice card: at the desk, after a
 * reload, in a window opened late, and taken back. The cards are made here; their sound is
 * silence, since nobody speaks in this test.
 */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
// Past the folder's door: it also opens on JSON files that this test runner can't import.
import { cardToText } from '../../src/voice/cards/card-file';

async function bringCard(page: Page, label: string, language = 'en-GB'): Promise<void> {
  const text = await cardToText({
    format: 1,
    id: `card-${label.toLowerCase().replace(' ', '-')}`,
    label,
    language,
    version: 2,
    madeAt: Date.UTC(2026, 0, 5),
    addressPhrase: 'theatre wall',
    takes: [{ text: 'theatre wall what is next', pcm: new Int16Array(16_000) }],
  });
  await page.locator('input[type=file]').setInputFiles({
    name: 'card.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text),
  });
}

const cardsAt = (page: Page) => page.getByRole('tabpanel').getByRole('listitem');

test('[CARD20] [CARD16] [LANG7] a role goes to a colleague with a voice card, in every window, and comes back', async ({
  page,
  context,
}) => {
  await page.setViewportSize({ width: 1366, height: 768 });
  await page.goto('/#/voice/cards');
  for (const label of ['scrub A', 'scrub B']) {
    await bringCard(page, label);
    await expect(page.getByText('Taken in:').locator('..')).toContainText(label);
  }
  await bringCard(page, 'scrub D', 'de-DE');
  await expect(page.getByText('in a language that this version can’t hear: German')).toBeVisible();

  await page.goto('/#/start/setup');
  await page.getByLabel('Reverse shoulder replacement', { exact: false }).first().check();
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page
    .getByLabel('Scrub practitioner’s voice card')
    .selectOption({ label: 'scrub A, version 2' });
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await page.getByRole('tab', { name: /^Room/ }).click();
  await expect(cardsAt(page)).toHaveText([/scrub A/]);

  await page.getByRole('button', { name: 'Hand over: Scrub practitioner' }).click();
  await page.getByLabel('Scrub practitioner goes to').fill('scrub B');
  await page
    .getByLabel('Voice card of whoever takes over')
    .selectOption({ label: 'scrub B, version 2' });
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  if (process.env['SHOTS'])
    await page.screenshot({ path: `${process.env['SHOTS']}/hand-over.png` });
  await page.getByRole('button', { name: 'Hand it over' }).click();
  await expect(cardsAt(page)).toHaveText([/scrub B/]);

  await page.reload();
  await page.getByRole('tab', { name: /^Room/ }).click();
  await expect(cardsAt(page)).toHaveText([/scrub B/]);
  const late = await context.newPage();
  await late.goto('/#/desk');
  await late.getByRole('tab', { name: /^Room/ }).click();
  await expect(cardsAt(late)).toHaveText([/scrub B/]);

  await page.getByRole('button', { name: /^Take back/ }).click();
  await expect(cardsAt(page)).toHaveText([/scrub A/]);
  await expect(cardsAt(late)).toHaveText([/scrub A/]);
});
