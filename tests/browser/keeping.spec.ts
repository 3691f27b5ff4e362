/** The screen about the record, in a real browser: room, files out and in, old cases. */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { readFile } from 'node:fs/promises';

async function closeCase(page: Page): Promise<void> {
  await page.goto('/#/start/setup');
  await page.getByText('LEFT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await page.getByRole('button', { name: 'Close the case…' }).click();
  await page.getByRole('button', { name: 'Abandoned' }).click();
  await page.keyboard.type('Only a trial of the screens');
  // By key: a click so soon after the last one, at the same place, counts as a double press.
  await page.getByRole('button', { name: 'Close the case', exact: true }).press('Enter');
  await expect(page.getByText(/closed/i).first()).toBeVisible();
}

test('[REC25] [REC30] cases go out as a file, leave by a second word, and come in again', async ({
  page,
}) => {
  // Without the picker, which no script can press, the file comes as a download.
  await page.addInitScript(() => Reflect.deleteProperty(window, 'showSaveFilePicker'));
  await closeCase(page);
  await page.goto('/#/record');
  await expect(page.getByText(/left, .* used/)).toBeVisible();
  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save all cases, JSON' }).click();
  const text = await readFile(await (await downloading).path(), 'utf8');
  expect(JSON.parse(text)).toMatchObject({ format: 'cuewall-backup', cases: [{ mode: 'demo' }] });

  const chooser = page.locator('input[type=file]');
  const file = (name: string, content: string) => ({
    name,
    mimeType: 'application/json',
    buffer: Buffer.from(content),
  });
  await chooser.setInputFiles(file('again.json', text));
  await expect(page.getByText('This case is on this machine already')).toBeVisible();

  await page.getByRole('spinbutton').fill('0');
  await page.getByRole('spinbutton').blur();
  await page.getByRole('button', { name: 'Remove these…' }).click();
  await page.getByRole('button', { name: 'Remove 1 case for good' }).click();
  await expect(page.getByText('1 case removed so far')).toBeVisible();

  await chooser.setInputFiles([
    file('changed.json', text.replace('"left"', '"right"')),
    file('whole.json', text),
  ]);
  await expect(page.getByText('This file was changed after it was saved')).toBeVisible();
  await expect(page.getByText('Taken in', { exact: true })).toBeVisible();
  const found = await new AxeBuilder({ page }).analyze();
  expect(found.violations).toEqual([]);
  await page.goto('/#/review');
  await page
    .getByRole('link', { name: /Look back/ })
    .first()
    .click();
  await expect(page.getByText('As it was written')).toBeVisible();
});
