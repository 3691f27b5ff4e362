/** The screen of procedures in a real browser: in, seen as a whole, dry, out again, chosen, away. */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import { readFile } from 'node:fs/promises';
import { SHORT_PROCEDURE } from './desk-procedure';

const TEXT = JSON.stringify(SHORT_PROCEDURE, null, 1);
const file = (name: string, text: string) => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(text),
});

test('[PRC11] a broken file is refused; a good one comes in, is seen, run dry, saved and removed', async ({
  page,
}) => {
  await page.goto('/#/procedures');
  const chooser = page.locator('input[type=file]');
  await chooser.setInputFiles(
    file('broken.json', JSON.stringify({ ...SHORT_PROCEDURE, title: 7 })),
  );
  await expect(page.getByText('broken.json can’t be taken in')).toBeVisible();
  await expect(page.getByText('Must be mended: title')).toBeVisible();

  await chooser.setInputFiles(file('short.json', TEXT));
  await page.getByRole('button', { name: /^(Accept these and keep|Keep) it$/ }).click();
  await page.getByRole('link', { name: 'Look at the whole operation' }).click();
  await expect(page.getByRole('img', { name: /Drawing of the whole operation/ })).toBeVisible();
  await page.getByText('The same as a table').click();
  await expect(page.getByRole('rowheader', { name: 'Insert the baseplate' })).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);

  const downloading = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Save the file' }).click();
  expect(await readFile(await (await downloading).path(), 'utf8')).toBe(TEXT);

  await page.getByRole('button', { name: 'Dry run' }).click();
  await expect(page.getByText('Dry run, nothing is recorded')).toBeVisible();
  const press = (name: string | RegExp) => page.getByRole('button', { name }).first().click();
  await press('Done: Expose');
  await press('Depth 20 mm');
  await press('Confirm');
  await press('Begin: Insert the baseplate');
  await expect(page.getByText('Held: Baseplate').first()).toBeVisible();
  await press(/^Pin out/);
  await press('Confirm');
  await press('Begin: Insert the baseplate');
  await press('Done: Insert the baseplate');
  await press('Done: Look again');
  await expect(page.getByText('The end of the operation.')).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await press('End the dry run');

  await page.goto('/#/start/setup');
  await expect(page.getByText('Short test procedure')).toBeVisible();
  await page.goto('/#/procedures');
  await press('Remove Short test procedure…');
  await press('Remove Short test procedure for good');
  await expect(page.getByRole('link', { name: 'Short test procedure' })).toHaveCount(0);
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
});

test('[PRC14] in a dry run a checklist, a timer and the way back stand once each', async ({
  page,
}) => {
  await page.goto('/#/procedures/wrist-plate');
  const button = (name: string | RegExp) => page.getByRole('button', { name });
  await button('Dry run').click();
  await button('Done: Patient into the room').click();
  await expect(page.getByRole('group', { name: 'Checklist: Sign in' })).toHaveCount(1);
  const yes = button('Yes: Patient, side and operation confirmed with the patient');
  await expect(yes).toHaveCount(1);
  await yes.click();
  await expect(button(/^Yes: /)).toHaveAccessibleName(/Site marked/);
  await button('Start: Antibiotic').click();
  await expect(button('Stop: Antibiotic')).toHaveCount(1);
  await expect(button(/Take back: timer start/)).toHaveCount(1);
  await button(/Take back: timer start/).click();
  await expect(button('Start: Antibiotic')).toHaveCount(1);
  await button('Hand over: Surgeon').click();
  await page.getByRole('textbox').fill('surgeon B');
  await button('Hand it over').click();
  await expect(page.getByText('surgeon B')).toHaveCount(1);
});
