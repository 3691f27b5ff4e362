/** The lock as a person meets it: said first, set, locked, unlocked; the running case goes on. */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';

const PASSPHRASE = 'four grey horses by the mill';

test('[LOC6] [LOC2] a lock is explained before it is set; locked, the wall goes on and the review does not open', async ({
  page,
}) => {
  test.setTimeout(90_000);
  await page.goto('/#/record');
  await expect(page.getByText('A lost passphrase is a lost record.')).toBeVisible();
  const set = page.getByRole('button', { name: 'Set the lock' });
  await page.getByLabel(/^Passphrase, 15/).fill(PASSPHRASE);
  await page.getByLabel('The same once more').fill(PASSPHRASE);
  await expect(set).toBeDisabled();
  await page.getByRole('checkbox').check();
  await set.click();
  await expect(page.getByText(/^Unlocked in this window/)).toBeVisible({ timeout: 30_000 });

  await page.goto('/#/start/setup');
  await page.getByText('LEFT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await page.reload();
  const region = page.getByRole('region', { name: 'Field track' });
  await expect(region).toBeVisible();
  await page.goto('/#/review');
  await page.goto('/#/record');
  await expect(page.getByText(/^Locked\./)).toBeVisible();
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  await page.getByLabel('Passphrase').fill('not the passphrase');
  await page.getByRole('button', { name: 'Unlock' }).click();
  await expect(page.getByText('That is not the passphrase')).toBeVisible({ timeout: 30_000 });

  const caseId = await page.evaluate(async () => {
    const opening = indexedDB.open('cuewall-record');
    const database = await new Promise<IDBDatabase>((resolve) => {
      opening.onsuccess = () => resolve(opening.result);
    });
    const keys = database.transaction('heads').objectStore('heads').getAllKeys();
    await new Promise((resolve) => (keys.onsuccess = resolve));
    database.close();
    return String(keys.result[0]);
  });
  await page.goto(`/#/review/${caseId}`);
  await expect(page.getByRole('heading', { name: 'The record is locked' })).toBeVisible();
  await page.goto('/#/wall');
  await expect(page.getByRole('heading', { name: 'Bring the patient in' })).toBeVisible();

  await page.goto('/#/record');
  await page.getByLabel('Passphrase').fill(PASSPHRASE);
  await page.getByRole('button', { name: 'Unlock' }).click();
  await expect(page.getByText(/^Unlocked in this window/)).toBeVisible({ timeout: 30_000 });
  await page.goto(`/#/review/${caseId}`);
  await expect(page.getByText('As it was written')).toBeVisible();
});
