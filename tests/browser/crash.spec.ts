/** Killed browsers on real disks; many more of them, and a full disk: bench crash. */
import { expect, test } from '@playwright/test';
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { bundle } from './bundled-page';
import type { CrashPage } from './crash-page';
import { countCrashes, openCrashPage } from './crashes';

declare const crashPage: CrashPage;

let script = '';
test.beforeAll(async () => {
  script = await bundle('tests/browser/crash-page.ts');
});

test('[REC9] [SES9] browsers killed at random moments of a case lose nothing that was acknowledged, and it goes on', async () => {
  test.setTimeout(180_000);
  const figures = await countCrashes(script, 5);
  expect(figures.acknowledged).toBeGreaterThan(0);
  expect(figures).toMatchObject({ crashes: 5, lost: 0, chainsBroken: 0, notResumed: 0 });
});

test('[REC31] a record whose files were torn comes back from the copy in its bucket', async () => {
  test.setTimeout(120_000);
  const folder = await mkdtemp(path.join(tmpdir(), 'cuewall-torn-'));
  const profile = path.join(folder, 'profile');
  let known = 0;
  const { page, kill } = await openCrashPage(profile, script, (entries) => (known = entries));
  expect(await page.evaluate(() => crashPage.run('case-torn', 40))).toBe('closed');
  await page.evaluate(() => crashPage.untilCopied());
  await kill();
  expect(known).toBeGreaterThan(20);
  // The files of the record's own database; those of the bucket lie in another folder.
  const databases = path.join(profile, 'Default', 'IndexedDB');
  const [files] = (await readdir(databases)).filter((name) => name.endsWith('.leveldb'));
  await writeFile(path.join(databases, files ?? '', 'CURRENT'), 'torn');

  const again = await openCrashPage(profile, script);
  const found = await again.page.evaluate(() => crashPage.find('case-torn'));
  await again.kill();
  await rm(folder, { recursive: true, force: true });
  expect(found).toMatchObject({ restored: 1, isWhole: true, isResumed: true });
  expect(found.entries).toBeGreaterThanOrEqual(known);
});
