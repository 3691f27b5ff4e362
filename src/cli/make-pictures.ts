/**
 * Takes the pictures of README and manual from the built product while it rehearses:
 * the real screens, in real states, nothing arranged. Takes about six minutes.
 */
import { chromium } from '@playwright/test';
import type { Page } from '@playwright/test';
import { mkdir } from 'node:fs/promises';
import path from 'node:path';
import { CHROMIUM_ARGS } from '../../tests/browser/chromium-args';
import { CHROMIUM_PATH } from './debian-packages';
import { ROOT } from './run-program';

const PICTURES = path.join(ROOT, 'docs/manual');
const WALL = { width: 1920, height: 1080 };
const LAPTOP = { width: 1440, height: 900 };
/** Longer than any stretch of the rehearsal between two pictures, in milliseconds. */
const PATIENCE_MS = 300_000;

/** What is on the wall when a picture is worth taking, in the order of the rehearsal. */
const MOMENTS: readonly { readonly name: string; readonly heading: RegExp }[] = [
  { name: 'wall-held', heading: /^Held/ },
  { name: 'wall', heading: /^Measure the depth/ },
  { name: 'wall-read-back', heading: /^Depth, two four/ },
];

/** `make-pictures URL`: the address that `npm start` printed. */
export async function run([
  address = 'http://localhost:4173/',
]: readonly string[]): Promise<number> {
  await mkdir(PICTURES, { recursive: true });
  const browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [...CHROMIUM_ARGS],
  });
  const context = await browser.newContext({ viewport: WALL });
  const wall = await context.newPage();
  await wall.goto(address);
  await shoot(wall, 'start');
  await wall.getByText('Watch a rehearsal').click();
  const desk = await context.newPage();
  await desk.setViewportSize(LAPTOP);
  await desk.goto(`${address}#/desk`);
  for (const { name, heading } of MOMENTS) {
    await wall.getByRole('main').getByText(heading).first().waitFor({ timeout: PATIENCE_MS });
    await shoot(wall, name);
    if (name === 'wall') await shoot(desk, 'desk');
  }
  await wall.getByRole('heading', { name: /closed/i }).waitFor({ timeout: PATIENCE_MS });
  const review = await context.newPage();
  await review.setViewportSize(LAPTOP);
  await review.goto(`${address}#/review`);
  await review
    .getByRole('link', { name: /rehearsal/i })
    .first()
    .click();
  await shoot(review, 'review');
  await browser.close();
  return 0;
}

async function shoot(page: Page, name: string): Promise<void> {
  // Let fonts load and a change of state finish moving.
  await page.evaluate(() => document.fonts.ready);
  await page.waitForTimeout(600);
  await page.screenshot({ path: path.join(PICTURES, `${name}.png`) });
  console.log(`${name}.png`);
}
