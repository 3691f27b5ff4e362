/**
 * Takes pictures of the wall's states for looking at: `npx tsx
 * tests/browser/gallery/shoot.ts [FOLDER] [STATE...]`. Starts its own Vite.
 */
import { mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { BROWSER } from './browser';
import { serveGallery } from './serve';
import { STATES } from './states';
import { chromium } from '@playwright/test';

const [folder = join(tmpdir(), 'wall-gallery'), ...only] = process.argv.slice(2);

const HD = { width: 1920, height: 1080 };
/** Screens of other shapes, for a few states each. */
const OTHERS = {
  '4k': { width: 3840, height: 2160 },
  portrait: { width: 1080, height: 1920 },
  '4to3': { width: 1600, height: 1200 },
  '16to10': { width: 1920, height: 1200 },
};
const SOME = ['want-number', 'read-back', 'refused', 'longest-want'];

mkdirSync(folder, { recursive: true });
const gallery = await serveGallery();
const browser = await chromium.launch(BROWSER);

const isWanted = (state: string) => only.length === 0 || only.includes(state);

/** Pictures of the given states on one page of one size. */
async function shoot(states: readonly string[], size: typeof HD, suffix = '') {
  const page = await browser.newPage({ viewport: size });
  page.on('pageerror', (error) => console.error(error.message));
  const query = suffix.includes('light') ? '?theme=light' : '';
  for (const state of states.filter(isWanted)) {
    await page.goto(`${gallery.url}${query}#/${state}`);
    await page.waitForSelector(`body[data-ready="${state}"]`, { state: 'attached' });
    await page.screenshot({ path: join(folder, `${state}${suffix}.png`) });
  }
  await page.close();
}

await shoot(Object.keys(STATES), HD);
if (only.length === 0) {
  await shoot(SOME, HD, '-light');
  for (const [name, size] of Object.entries(OTHERS)) await shoot(SOME, size, `-${name}`);
}
await browser.close();
await gallery.close();
console.log(folder);
