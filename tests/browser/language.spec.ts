/**
 * A case with French voice cards in a real browser: where a language or a card is picked,
 * and at the desk, it stands who speaks what. The card is made here; its sound is silence,
 * since nobody speaks in this test.
 */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { bringCard, SILENCE } from './bring-card';

const SPOKEN =
  'People speak French to the wall. It shows and speaks English, read-backs included: whoever confirms must understand them.';

/** A French card of the phrase that French cases begin with. */
const bringFrench = (page: Page, label: string): Promise<void> =>
  bringCard(page, {
    label,
    language: 'fr-FR',
    version: 3,
    addressPhrase: 'mur du bloc',
    takes: [{ text: 'mur du bloc quelle est la suite', pcm: SILENCE }],
  });

async function look(page: Page, name: string): Promise<void> {
  const found = await new AxeBuilder({ page }).analyze();
  expect(found.violations).toEqual([]);
  for (const [width, height] of [
    [1920, 1080],
    [1024, 768],
    [1366, 768],
  ] as const) {
    await page.setViewportSize({ width, height });
    const excess = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(excess).toBeLessThanOrEqual(0);
    if (process.env['SHOTS'])
      await page.screenshot({
        path: `${process.env['SHOTS']}/${name}-${width}.png`,
        fullPage: true,
      });
  }
}

test('[LANG6] [CARD16] who speaks what is said where a language or card is picked and at the desk', async ({
  page,
}) => {
  await page.goto('/#/voice');
  await expect(
    page.getByText('people speak French to the wall, “mur du bloc …” first'),
  ).toBeVisible();
  await page.goto('/#/voice/cards');
  await expect(page.getByText(SPOKEN)).toHaveCount(0);
  await page.getByLabel('Language').selectOption('Français');
  await expect(page.getByText(SPOKEN)).toBeVisible();
  for (const label of ['surgeon A', 'scrub A']) {
    await bringFrench(page, label);
    await expect(page.getByText('Taken in:').locator('..')).toContainText(label);
  }

  await page.goto('/#/start/setup');
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await expect(page.getByText(SPOKEN)).toHaveCount(0);
  await page.getByLabel('Surgeon’s voice card').selectOption({ label: 'surgeon A, version 3' });
  await page
    .getByLabel('Scrub practitioner’s voice card')
    .selectOption({ label: 'scrub A, version 3' });
  await expect(page.getByText(SPOKEN)).toBeVisible();
  await look(page, 'french-setup');
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);

  await expect(page.getByText(SPOKEN)).toBeVisible();
  await page.getByRole('tab', { name: /^Room/ }).click();
  const cards = page.getByRole('tabpanel').getByRole('listitem');
  await expect(cards).toHaveText([
    /Surgeon\s*surgeon A\s*version 3, French/,
    /Scrub practitioner\s*scrub A\s*version 3, French/,
  ]);
  await look(page, 'french-desk');
});
