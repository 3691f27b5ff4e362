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

async function shoot(state: string, size: { width: number; height: number }, suffix = '') {
  const page = await browser.newPage({ viewport: size });
  page.on('pageerror', (error) => console.error(state, error.message));
  const query = suffix.includes('light') ? '?theme=light' : '';
  await page.goto(`${gallery.url}${query}#/${state}`);
  await page.waitForSelector(`body[data-ready="${state}"]`, { state: 'attached' });
  await page.screenshot({ path: join(folder, `${state}${suffix}.png`) });
  await page.close();
}

const isWanted = (state: string) => only.length === 0 || only.includes(state);
for (const state of Object.keys(STATES).filter(isWanted)) await shoot(state, HD);
for (const state of SOME.filter(isWanted)) {
  await shoot(state, HD, '-light');
  for (const [name, size] of Object.entries(OTHERS)) await shoot(state, size, `-${name}`);
}
await browser.close();
await gallery.close();
console.log(folder);
