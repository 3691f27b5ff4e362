/** Labels through the camera: a film of symbols stands in for it, in Chromium. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, expect, test } from '@playwright/test';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { CHROMIUM_ARGS } from './chromium-args';
import { SYMBOLS, VIEWS, writeCameraFile } from './symbols-as-camera';

// Sixteen symbols of two seconds, on a machine that may be busy: the film runs several times.
test.describe.configure({ timeout: 300_000 });

test('[LAB20] DataMatrix, GS1-128, QR and HIBC are read: straight, turned, dim and blurred', async ({
  baseURL,
}) => {
  const folder = await mkdtemp(join(tmpdir(), 'cuewall-camera-'));
  const film = join(folder, 'symbols.y4m');
  // Each symbol carries in its lot which it is and how it is shown.
  const shown = SYMBOLS.flatMap(({ name, bcid, make }) =>
    Object.entries(VIEWS).map(([how, view]) => {
      const lot = `${name}${how.slice(0, 2)}`;
      return { lot, bcid, text: make(lot), view };
    }),
  );
  await writeCameraFile(film, shown);
  const browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [
      ...CHROMIUM_ARGS,
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-video-capture=${film}`,
    ],
  });
  try {
    const page = await browser.newPage({ ...(baseURL === undefined ? {} : { baseURL }), serviceWorkers: 'block' }); // prettier-ignore
    const elsewhere: string[] = [];
    page.on('request', (request) => {
      if (!request.url().startsWith(baseURL ?? '')) elsewhere.push(request.url());
    });
    await page.goto('/#/start/setup');
    await page.getByLabel('RIGHT').check();
    await page.getByLabel('Demo, invented data').check();
    await page.getByRole('button', { name: 'Open the case' }).click();
    await page.getByRole('link', { name: 'Plan and implants' }).click();
    await page.getByRole('button', { name: 'Use the camera' }).click();
    const list = page.getByRole('region', { name: 'Implant list' });
    for (const { lot } of shown) {
      await expect(list.getByText(`lot ${lot}`)).toBeVisible({ timeout: 120_000 });
    }
    // Chromium on Linux reads no bar codes itself, and the panel says who does.
    await expect(page.getByText('Read by ZXing')).toBeVisible();
    const decodeMs = await page.locator('video').getAttribute('data-decode-ms');
    test.info().annotations.push({ type: 'decodeMs', description: decodeMs ?? '' });
    // Data that GS1 writes with a separator came with it: the serial is its own field.
    await expect(list.getByText(/lot DMST, serial 7, expires 2027-11-30/)).toBeVisible();
    // The reader's WebAssembly comes from our own origin.
    expect(elsewhere.filter((url) => !url.startsWith('blob:'))).toEqual([]);
  } finally {
    await browser.close();
    await rm(folder, { recursive: true });
  }
});
