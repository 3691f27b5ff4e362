/**
 * A role handed over in a real browser, with the newcomer's voice card: at the desk, after a
 * reload, in a window opened late, and taken back. The cards are made here; their sound is
 * silence, since nobody speaks in this test.
 */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { bringCard, SILENCE } from './bring-card';

const bring = (page: Page, label: string, language = 'en-GB'): Promise<void> =>
  bringCard(page, {
    label,
    language,
    version: 2,
    takes: [{ text: 'theatre wall what is next', pcm: SILENCE }],
  });

const cardsAt = (page: Page) => page.getByRole('tabpanel').getByRole('listitem');

test('[CARD20] [CARD16] [LANG7] a role goes to a colleague with a voice card, in every window, and comes back', async ({
  page,
  context,
}) => {
  await page.setViewportSize({ width: 1366, height: 768 });
  await page.goto('/#/voice/cards');
  for (const label of ['scrub A', 'scrub B']) {
    await bring(page, label);
    await expect(page.getByText('Taken in:').locator('..')).toContainText(label);
  }
  await bring(page, 'scrub D', 'de-DE');
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
