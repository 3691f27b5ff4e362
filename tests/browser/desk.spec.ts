/** The start, the desk and the review in a real browser, by keyboard, at the sizes they are made for. */
import AxeBuilder from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { SHORT_PROCEDURE } from './desk-procedure';

/** Laptop, larger laptop, tablet lying and standing. */
const SIZES = [
  [1366, 768],
  [1440, 900],
  [1024, 768],
  [820, 1180],
] as const;

// axe reads a whole screen several times in some of these.
test.describe.configure({ timeout: 120_000 });

const FILE = {
  name: 'short.json',
  mimeType: 'application/json',
  buffer: Buffer.from(JSON.stringify(SHORT_PROCEDURE)),
};

const field = (page: Page) => page.getByRole('region', { name: 'Field track' });
const now = (page: Page) => page.getByRole('region', { name: 'Needed now' });

/** Opens the short procedure as a demo, with a plan. */
async function openShortCase(page: Page): Promise<void> {
  await page.goto('/#/start/setup');
  await page.locator('input[type=file]').setInputFiles(FILE);
  await page.getByLabel('LEFT').check();
  await page.getByLabel('Demo, invented data').check();
  await page.getByLabel('Depth, mm').selectOption('24 mm');
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(field(page).getByRole('heading', { name: 'Expose' })).toBeVisible();
}

/** Waits until a read-back may be confirmed by a key. */
async function confirmByKey(page: Page): Promise<void> {
  const readBack = page.getByRole('group', { name: 'Read-back' });
  await expect(readBack).toBeVisible();
  await expect(async () => {
    await page.keyboard.press('Enter');
    await expect(readBack).toBeHidden({ timeout: 200 });
  }).toPass();
}

async function checkAxe(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
}

test('[DSK18] a case is set up by keyboard alone', async ({ page }) => {
  await page.goto('/');
  const tabTo = async (name: string) => {
    for (let presses = 0; presses < 40; presses += 1) {
      await page.keyboard.press('Tab');
      const text = await page.evaluate(() => {
        const { activeElement } = document;
        if (activeElement === document.body) return '';
        const label = activeElement?.closest('label')?.textContent;
        return label ?? activeElement?.textContent ?? '';
      });
      if (text.includes(name)) return;
    }
    throw new Error(`Tab never came to “${name}”`);
  };
  await tabTo('Set up a case');
  await page.keyboard.press('Enter');
  await expect(page.getByRole('heading', { name: 'Set up a case' })).toBeVisible();
  await tabTo('LEFT');
  await page.keyboard.press('ArrowRight');
  await expect(page.getByLabel('RIGHT')).toBeChecked();
  await tabTo('Real case');
  await page.keyboard.press('ArrowRight');
  await tabTo('Surgeon');
  await page.keyboard.type('surgeon A');
  await tabTo('Open the case');
  await page.keyboard.press('Enter');
  await expect(page).toHaveURL(/#\/desk/);
  await expect(field(page).getByRole('heading', { name: 'Bring the patient in' })).toBeVisible();
  await expect(page.getByText('RIGHT', { exact: true })).toBeVisible();
});

test('[DSK19] neither side nor kind of case has a default, and the case does not open without them', async ({
  page,
}) => {
  await page.goto('/#/start/setup');
  for (const name of ['LEFT', 'RIGHT', 'Real case', 'Demo, invented data']) {
    await expect(page.getByLabel(name)).not.toBeChecked();
  }
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(
    page.getByText('Still to choose: the side, whether it is a real case.'),
  ).toBeVisible();
  expect(page.url()).toContain('setup');
});

test('[DSK16] a wrong procedure file is told by place, expected and found; the built-in one still works', async ({
  page,
}) => {
  await page.goto('/#/start/setup');
  const wrong = { ...SHORT_PROCEDURE, tracks: [] };
  await page
    .locator('input[type=file]')
    .setInputFiles({ ...FILE, buffer: Buffer.from(JSON.stringify(wrong)) });
  const alert = page.getByRole('alert');
  await expect(alert).toContainText('This procedure file can’t be used');
  await expect(alert).toContainText('tracks');
  await checkAxe(page);
  await page
    .locator('input[type=file]')
    .setInputFiles({ ...FILE, buffer: Buffer.from('{\n oops') });
  await expect(alert).toContainText('text that breaks at line 2');
  await page.getByLabel('Reverse shoulder').first().check();
  await expect(alert).toBeHidden();
});

test('[DSK20] a size is typed, read back, confirmed and settled by keyboard', async ({ page }) => {
  await openShortCase(page);
  await page.keyboard.press('d');
  await expect(field(page).getByRole('heading', { name: 'Measure the depth' })).toBeVisible();
  await page.keyboard.press('Enter');
  await page.keyboard.type('20');
  await expect(now(page).getByText('Enter offers it')).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(now(page).getByText('Depth, two zero. Right?')).toBeVisible();
  await expect(now(page).getByText('Differs from the plan: 24 mm')).toBeVisible();
  await page.keyboard.press('Escape');
  await expect(now(page).getByText('type it here')).toBeVisible();
  await page.keyboard.type('24');
  await page.keyboard.press('Enter');
  await confirmByKey(page);
  await expect(field(page).getByRole('heading', { name: 'Insert the baseplate' })).toBeVisible();
  await expect(page.locator('dd .settled')).toHaveText(['24 mm']);
});

test('[DSK20] a size that does not exist is refused and the refusal is listed', async ({
  page,
}) => {
  await openShortCase(page);
  await page.keyboard.press('d');
  await expect(now(page).getByRole('heading', { name: 'Depth' })).toBeVisible();
  await page.keyboard.type('25');
  await page.keyboard.press('Enter');
  await expect(now(page).getByRole('alert')).toContainText('Depth 25 does not exist in this set');
  await expect(page.getByRole('listitem').filter({ hasText: 'Depth 25' })).toBeVisible();
  await expect(page.locator('dd .settled')).toHaveCount(0);
});

test('[DSK21] a held step is refused with what is missing; an override takes a reason and a second press', async ({
  page,
}) => {
  await openShortCase(page);
  await page.keyboard.press('d');
  await page.getByRole('button', { name: 'Depth 24' }).click();
  await confirmByKey(page);
  await page.keyboard.press('s');
  const alert = now(page).getByRole('alert');
  await expect(alert).toContainText('Not yet: Insert the baseplate');
  await expect(alert).toContainText('Pin not reported out');
  await checkAxe(page);

  await alert.getByRole('button', { name: 'Override Baseplate' }).click();
  await expect(page.getByRole('button', { name: 'Ask for the override' })).toBeDisabled();
  await page.keyboard.type('Pin seen out, d and h typed here');
  await checkAxe(page);
  await page.keyboard.press('Enter');
  const second = page.getByRole('alertdialog', { name: 'Pass “Baseplate” without this?' });
  await expect(second).toContainText('Pin seen out, d and h typed here');
  await page.keyboard.press('Enter');
  await expect(second).toBeVisible();
  await checkAxe(page);
  await second.getByRole('button', { name: 'Confirm the override' }).click();
  await expect(second).toBeHidden();
  await expect(page.getByText('overridden')).toBeVisible();
  await page.keyboard.press('s');
  await expect(
    field(page).getByRole('button', { name: 'Done: Insert the baseplate' }),
  ).toBeVisible();
});

test('[DSK22] a reload keeps the case, its step and its sizes', async ({ page }) => {
  await openShortCase(page);
  await page.keyboard.press('d');
  await page.getByRole('button', { name: 'Depth 24' }).click();
  await confirmByKey(page);
  await expect(page.locator('dd .settled')).toHaveText(['24 mm']);
  await page.reload();
  await expect(field(page).getByRole('heading', { name: 'Insert the baseplate' })).toBeVisible();
  await expect(page.locator('dd .settled')).toHaveText(['24 mm']);
});

test('[DSK23] the clock is held with a reason and resumed; a named time is marked', async ({
  page,
}) => {
  await openShortCase(page);
  await page.keyboard.press('h');
  await page.keyboard.press('1');
  await expect(now(page).getByText('Clock held: Imaging')).toBeVisible();
  await page.keyboard.press('h');
  await expect(now(page).getByText('Clock held: Imaging')).toBeHidden();
  await page.getByRole('tab', { name: 'Times' }).click();
  await page.getByRole('button', { name: 'Mark: Procedure start' }).click();
  await expect(page.getByRole('button', { name: /^Mark again: Procedure start/ })).toBeVisible();
});

test('[DSK24] a step is left out with a reason only', async ({ page }) => {
  await openShortCase(page);
  await page.getByRole('button', { name: 'Leave out: Expose' }).click();
  await expect(page.getByRole('button', { name: 'Leave it out' })).toBeDisabled();
  await page.keyboard.type('Done before');
  await page.keyboard.press('Enter');
  await expect(field(page).getByRole('heading', { name: 'Measure the depth' })).toBeVisible();
});

test('[DSK25] the keys work on the wall, and what was typed is shown there', async ({ page }) => {
  await openShortCase(page);
  await page.goto('/#/wall');
  await page.keyboard.press('PageDown');
  await expect(page.getByText('Measure the depth').first()).toBeVisible();
  await page.keyboard.type('24');
  await expect(page.getByText('Depth 24, Enter')).toBeVisible();
  await page.keyboard.press('Enter');
  await expect(page.getByText('Depth 24, Enter')).toBeHidden();
  await expect(page.getByText('two four').first()).toBeVisible();
});

test('[REV21] a closed case is looked back on and saved as three files', async ({ page }) => {
  await openShortCase(page);
  await page.keyboard.press('d');
  await page.getByRole('button', { name: 'Depth 20' }).click();
  await confirmByKey(page);
  await page.getByRole('button', { name: 'Close the case…' }).click();
  await page.getByRole('button', { name: 'Abandoned' }).click();
  await page.keyboard.type('Only a trial of the screens');
  // By key: a click so soon after the last one, at the same place, counts as a double press.
  await page.getByRole('button', { name: 'Close the case', exact: true }).press('Enter');
  await page.getByRole('link', { name: 'Look back on it' }).click();
  await expect(page.getByRole('heading', { name: 'Short test procedure' })).toBeVisible();
  await expect(page.getByText('Demo, invented data')).toBeVisible();
  await expect(page.getByText('≠ differs')).toBeVisible();
  for (const [button, ending] of [
    ['Times, CSV', '-times.csv'],
    ['Entries, CSV', '-entries.csv'],
    ['Whole case, JSON', '.json'],
  ] as const) {
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: button }).click();
    const name = (await download).suggestedFilename();
    expect(name).toMatch(/^demo-case-/);
    expect(name.endsWith(ending)).toBe(true);
  }
  await page.getByText('The picture as a table').click();
  await checkAxe(page);
});

test('[DSK40] a site sets when reminders are due; what can’t be used keeps the case from opening', async ({
  page,
}) => {
  await page.goto('/#/start/setup');
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  const minutes = page.getByLabel(/^Antibiotic, next dose/);
  await minutes.fill('0');
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(page.getByRole('status').filter({ hasText: 'minutes for' })).toContainText(
    'minutes for “Antibiotic, next dose”',
  );
  await minutes.fill('90');
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  const record = await page.evaluate(async () => {
    const open = (name: string) =>
      new Promise<IDBDatabase>((resolve, reject) => {
        const request = indexedDB.open(name);
        request.onsuccess = () => {
          resolve(request.result);
        };
        request.onerror = () => {
          reject(new Error(String(request.error)));
        };
      });
    const database = await open('cuewall-record');
    const store = database.transaction('entries').objectStore('entries');
    return new Promise<string>((resolve) => {
      const request = store.getAll();
      request.onsuccess = () => {
        resolve(JSON.stringify(request.result));
      };
    });
  });
  expect(record).toContain('"antibiotic":90');
});

test('[DSK39] on a laptop a whole checklist and the tracks do not lie over each other', async ({
  page,
}) => {
  await page.setViewportSize({ width: 1366, height: 768 });
  await page.goto('/#/start/setup');
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(field(page).getByRole('heading', { name: 'Bring the patient in' })).toBeVisible();
  await page.keyboard.press('d');
  const checklist = page.getByRole('group', { name: 'Checklist: Sign in' });
  await expect(checklist.getByRole('listitem')).toHaveCount(7);
  const last = await checklist.getByRole('listitem').last().boundingBox();
  const track = await field(page).boundingBox();
  expect((last?.y ?? 0) + (last?.height ?? 0)).toBeLessThanOrEqual(track?.y ?? 0);
});

for (const [width, height] of SIZES) {
  test(`[DSK26] every screen fits ${width} by ${height} without sideways scrolling, free of axe's findings`, async ({
    page,
  }) => {
    await page.setViewportSize({ width, height });
    const check = async () => {
      const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      expect(over).toBeLessThanOrEqual(0);
      await checkAxe(page);
    };
    await page.goto('/');
    await expect(page.getByText('Watch a rehearsal')).toBeVisible();
    await check();
    await page.goto('/#/start/setup');
    await expect(page.getByRole('heading', { name: 'Set up a case' })).toBeVisible();
    await check();
    await openShortCase(page);
    await check();
    await page.keyboard.press('d');
    await page.getByRole('button', { name: 'Depth 24' }).click();
    await expect(page.getByRole('group', { name: 'Read-back' })).toBeVisible();
    await check();
    await page.goto('/#/review');
    await page.getByText('Short test procedure').click();
    await expect(page.getByRole('heading', { name: 'Sizes' })).toBeVisible();
    await check();
  });
}
