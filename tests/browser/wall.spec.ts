/**
 * The wall as drawn, in every state of the gallery: nothing is cut off, nothing
 * covers anything else, everything can be read from across the room.
 */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import type axeCore from 'axe-core';
import type { textChecks } from './gallery/gallery';
import { serveGallery } from './gallery/serve';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core'), 'utf8');
const HD = { width: 1920, height: 1080 };
/** Screens of other shapes must not lose anything either. */
const SHAPES = {
  '3840x2160': { width: 3840, height: 2160 },
  '1600x1200': { width: 1600, height: 1200 },
  '1920x1200': { width: 1920, height: 1200 },
  '1080x1920': { width: 1080, height: 1920 },
};

let gallery: Awaited<ReturnType<typeof serveGallery>>;
let page: Page;
/** Every state of the gallery; the page knows them, since this file can't load its procedures. */
let names: readonly string[];

test.setTimeout(240_000);
test.beforeAll(async ({ browser }) => {
  gallery = await serveGallery();
  page = await browser.newPage({ viewport: HD });
  await show('idle');
  names = (await page.locator('html').getAttribute('data-states'))?.split(' ') ?? [];
  expect(names.length).toBeGreaterThan(40);
});
test.afterAll(async () => {
  await page.close();
  await gallery.close();
});

async function show(state: string, query = ''): Promise<void> {
  await page.goto(`${gallery.url}${query}#/${state}`);
  await page.waitForSelector(`body[data-ready="${state}"]`, { state: 'attached' });
}

/** What the check finds in each of the states; states without findings are left out. */
async function findIn(
  states: readonly string[],
  check: keyof typeof textChecks,
): Promise<Record<string, readonly string[]>> {
  const found: Record<string, readonly string[]> = {};
  for (const state of states) {
    await show(state);
    const findings = await page.evaluate((name) => {
      const { textChecks: checks } = window as unknown as { textChecks: typeof textChecks };
      return checks[name]();
    }, check);
    if (findings.length > 0) found[state] = findings;
  }
  return found;
}

test('[WAL2] no text is cut off in any state, the longest texts included', async () => {
  await page.setViewportSize(HD);
  expect(await findIn(names, 'clippedTexts')).toEqual({});
});

test('[WAL3] no two texts cover each other in any state', async () => {
  await page.setViewportSize(HD);
  expect(await findIn(names, 'overlappingTexts')).toEqual({});
});

test('[WAL4] no text is smaller than 40 px at 1920x1080', async () => {
  await page.setViewportSize(HD);
  expect(await findIn(names, 'smallTexts')).toEqual({});
});

for (const [name, size] of Object.entries(SHAPES)) {
  test(`[WAL5] a screen of ${name} cuts nothing off and covers nothing`, async () => {
    await page.setViewportSize(size);
    const some = [
      'idle',
      'want-number',
      'read-back-differs',
      'refused',
      'ear-refused',
      'longest-want',
      'ear-refused-marks',
    ];
    expect(await findIn(some, 'clippedTexts')).toEqual({});
    expect(await findIn(some, 'overlappingTexts')).toEqual({});
  });
}

/** What axe finds; contrast, which is slow, is left to WAL1 except where asked for. */
async function axeFindings(withContrast: boolean): Promise<readonly string[]> {
  await page.evaluate((source) => {
    if (!('axe' in globalThis)) globalThis.eval(source);
  }, axeSource);
  return page.evaluate(async (isEnabled) => {
    const { axe } = globalThis as unknown as { axe: typeof axeCore };
    const { violations } = await axe.run({
      resultTypes: ['violations'],
      rules: { 'color-contrast': { enabled: isEnabled } },
    });
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' ')}`);
  }, withContrast);
}

test('[WAL6] axe finds nothing in any state, in both themes', async () => {
  await page.setViewportSize(HD);
  const some = ['want-number', 'read-back', 'refused', 'unsaved', 'ear-lost'];
  const found: Record<string, unknown> = {};
  for (const theme of ['dark', 'light']) {
    for (const state of theme === 'dark' ? names : some) {
      await show(state, `?theme=${theme}`);
      const findings = await axeFindings(some.includes(state));
      if (findings.length > 0) found[`${state} ${theme}`] = findings;
    }
  }
  expect(found).toEqual({});
});

test('[WAL7] a rehearsal and a demo say so on every state; a real case does not', async () => {
  await show('rehearsal');
  await expect(page.locator('header')).toContainText('REHEARSAL');
  await show('demo');
  await expect(page.locator('header')).toContainText('DEMO');
  await show('want-number');
  await expect(page.locator('header')).not.toContainText(/REHEARSAL|DEMO/);
});

test('[WAL8] the read-back takes the middle and its bar runs down', async () => {
  await show('read-back');
  await expect(page.locator('main h1')).toHaveText(/^\s*24\s*mm\s*$/);
  await expect(page.locator('main')).not.toContainText('Measure the depth');
  const width = await page.locator('.bar i').evaluate((bar) => bar.getBoundingClientRect().width);
  const whole = await page.locator('.bar').evaluate((bar) => bar.getBoundingClientRect().width);
  expect(width / whole).toBeCloseTo(8 / 12, 2);
});
