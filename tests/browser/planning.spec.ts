/**
 * The planning sheet before and during a case, and the marks that a spoken direction makes
 * on the wall, in a real browser. Angles: definition A computed with numpy outside this
 * project (−20°, 10° to neutral on a right shoulder: 22.0200° at 9.806 h, which is 9:48).
 */
import AxeBuilder from '@axe-core/playwright';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { startChromium } from './killable-chromium';
import { writeMicrophoneFile } from './sound-as-microphone';
import type { SpokenLine } from './sound-as-microphone';

test.describe.configure({ timeout: 180_000 });

/** Types the sheet as a nurse would, from the set-up and back to it. */
async function typeSheet(page: Page): Promise<void> {
  await page.getByLabel('Reverse shoulder: glenoid').check();
  await page.getByLabel('Surgeon').fill('surgeon B');
  await page.getByRole('link', { name: 'Planning sheet' }).click();
  const sheet = page.getByRole('region', { name: 'Planning sheet' });
  await expect(sheet.getByText('Still to type: the side, version measured')).toBeVisible();
  await sheet.getByLabel('RIGHT').check();
  await sheet.getByLabel('Version measured').fill('-20');
  await sheet.getByLabel('Inclination measured').fill('10');
  await sheet.getByLabel('Error allowed').fill('5');
  await sheet.getByLabel('Which inclination').selectOption('whole-face');
  await sheet.getByLabel('Pattern of wear').fill('back and up');
  await sheet.getByLabel('Wedge, degrees').selectOption({ label: '24°' });
  await expect(sheet.getByText('22.0° at about 9:48')).toBeVisible();
  await expect(sheet.getByText('no plan and no advice')).toBeVisible();
  await expect(sheet.getByRole('img')).toHaveAccessibleName(/right shoulder.*wedge 24°, planned at 9:48/); // prettier-ignore
}

async function checkAxe(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([]);
}

/** Nothing is wider than a laptop's or a tablet's screen, and no table hides a column. */
async function checkWidths(page: Page): Promise<void> {
  for (const width of [1366, 1024]) {
    await page.setViewportSize({ width, height: 768 });
    const over = await page.evaluate(() =>
      [document.documentElement, ...document.querySelectorAll('div:has(> table)')].map(
        ({ scrollWidth, clientWidth }) => scrollWidth - clientWidth,
      ),
    );
    expect(over.length).toBeGreaterThan(1);
    expect(Math.max(...over)).toBeLessThanOrEqual(0);
  }
}

const say = (who: SpokenLine['who'], ...lines: readonly string[]): readonly SpokenLine[] =>
  lines.map((words) => ({ who, words, pauseS: 6 }));

/** As far as the reamer, with a mark said at 10:30. */
const TO_THE_REAMER: readonly SpokenLine[] = [
  ...say('surgeon', 'step done', 'step done', 'pin placed', 'confirm', 'wedge two four', 'confirm'),
  ...say('surgeon', 'direction ten thirty', 'confirm'),
  ...say('scrub', 'reamer ready', 'confirm'),
];

test('[IMP31] the sheet is typed at set-up, on the way there and back, and in the case', async ({
  page,
}) => {
  await page.goto('/#/start/setup');
  await typeSheet(page);
  await checkAxe(page);
  await checkWidths(page);
  await page.getByRole('link', { name: 'Back to the set-up' }).click();
  await expect(page.getByLabel('Surgeon')).toHaveValue('surgeon B');
  await expect(page.getByLabel('RIGHT')).toBeChecked();
  await expect(page.getByText('computed wedge 22.0° at about 9:48')).toBeVisible();
  // A sheet that is half typed keeps the case from being opened, and says what lacks.
  await page.getByRole('link', { name: 'Planning sheet' }).click();
  await expect(page.getByLabel('Version measured')).toHaveValue('-20');
  await page.getByLabel('Inclination measured').fill('');
  await page.goBack();
  await page.getByLabel('Demo, invented data').check();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await expect(page.getByText('on the planning sheet, inclination measured')).toBeVisible();
  await page.getByRole('link', { name: 'Planning sheet' }).click();
  await page.getByLabel('Inclination measured').fill('10');
  await page.getByRole('link', { name: 'Back to the set-up' }).click();
  await page.getByRole('button', { name: 'Open the case' }).click();

  await page.getByRole('link', { name: 'Plan and implants' }).click();
  const sheet = page.getByRole('region', { name: 'Planning sheet' });
  await expect(sheet.getByText('22.0° at about 9:48')).toBeVisible();
  await expect(sheet.getByText('Planned: Wedge 24°')).toBeVisible();
  await expect(sheet.getByLabel('Pattern of wear')).toHaveValue('back and up');
  await checkWidths(page);
  // Half a change, a look at the desk, and back.
  await sheet.getByLabel('Version measured').fill('-12');
  await page.getByRole('link', { name: 'Desk' }).click();
  await page.getByRole('link', { name: 'Plan and implants' }).click();
  await expect(sheet.getByLabel('Version measured')).toHaveValue('-12');
  await expect(sheet.getByText('22.0° at about 9:48')).toBeVisible();
  await sheet.getByRole('button', { name: 'Keep the sheet' }).click();
  await expect(sheet.getByText('22.0° at about 9:48')).toBeHidden();
});

test('[IMP32] a mark that is said stands on the wall beside the computed one, with its caution', async ({
  baseURL,
}) => {
  const folder = await mkdtemp(join(tmpdir(), 'cuewall-planning-'));
  const sound = join(folder, 'to-the-reamer.wav');
  await writeMicrophoneFile(sound, TO_THE_REAMER, 6);
  const browser = await startChromium(join(folder, 'profile'), [
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${sound}%noloop`,
  ]);
  try {
    const desk = await browser.context.newPage();
    await desk.goto(`${baseURL ?? ''}#/start/setup`);
    await typeSheet(desk);
    await desk.getByRole('link', { name: 'Back to the set-up' }).click();
    await desk.getByLabel('Demo, invented data').check();
    await desk.getByRole('button', { name: 'Open the case' }).click();
    const wall = await browser.context.newPage();
    await wall.setViewportSize({ width: 1920, height: 1080 });
    await wall.goto(`${baseURL ?? ''}#/wall`);
    await desk.bringToFront();
    await desk.getByRole('button', { name: /^Listen/ }).click();
    const face = wall.getByRole('img', { name: /^Socket of the right shoulder/ });
    await expect(face).toHaveAccessibleName(/planned at 9:48, no mark yet/, { timeout: 120_000 });
    // 10:30 is 630 minutes, the plan 588.37: 20.8 degrees.
    await expect(face).toHaveAccessibleName(/wedge 24°, planned at 9:48, marked at 10:30, 21° clockwise of the plan/, { timeout: 60_000 }); // prettier-ignore
    await expect(wall.getByText('no plan, no advice')).toBeVisible();
  } finally {
    await browser.kill();
    await rm(folder, { recursive: true, force: true });
  }
});
