/** The record on Chromium's own IndexedDB: the acceptance suite, a full disk, a killed browser. */
import { expect, test } from '@playwright/test';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { idbFailureSuite } from '../record/idb-failure-suite';
import { recordStoreSuite } from '../record/record-store-suite';
import { bundle, openBundledPage } from './bundled-page';
import { startChromium } from './killable-chromium';
import type { RecordPage } from './record-page';

declare const recordPage: RecordPage;

let script: string;

test.beforeAll(async () => {
  script = await bundle('tests/browser/record-page.ts');
});

for (const { name } of [...recordStoreSuite, ...idbFailureSuite]) {
  test(name, async ({ context, baseURL }) => {
    const page = await openBundledPage(context, baseURL, script);
    expect(await page.evaluate((it) => recordPage.runCase(it), name)).toBeNull();
  });
}

test('[REC11] a disk that is really full refuses the entry, and what was taken stays', async ({
  context,
  baseURL,
}) => {
  const page = await openBundledPage(context, baseURL, script);
  const devtools = await context.newCDPSession(page);
  const origin = new URL(baseURL ?? '').origin;
  // The browser's own limit for this origin, in bytes.
  await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 8_000_000 });
  const { taken, code, detail } = await page.evaluate(() => recordPage.fillUp());
  expect([code, detail]).toEqual(['record-append-failed', expect.stringContaining('Quota')]);
  expect(taken).toBeGreaterThan(0);
  expect(await page.evaluate(() => recordPage.readSeqs())).toHaveLength(taken);
});

test('[REC9] every entry that was acknowledged outlives a browser that is killed', async ({
  baseURL,
}) => {
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-profile-'));
  const first = await startChromium(profile);
  const page = await openBundledPage(first.context, baseURL, script);
  let last = -1;
  const isUnderWay = new Promise<void>((resolve) => {
    void page.exposeFunction('acknowledge', (seq: number) => {
      last = seq;
      if (seq === 40) resolve();
    });
  });
  await page.waitForFunction(() => 'acknowledge' in globalThis);
  const appending = page.evaluate(() => recordPage.appendUntil(100_000)).catch(() => 'cut off');
  await isUnderWay;
  await first.kill();
  expect(await appending).toBe('cut off');

  const second = await startChromium(profile);
  const again = await openBundledPage(second.context, baseURL, script);
  const seqs = await again.evaluate(() => recordPage.readSeqs());
  await second.kill();
  await rm(profile, { recursive: true, force: true });
  expect(seqs.length).toBeGreaterThan(last);
  expect(seqs).toEqual(seqs.map((_, index) => index));
});
