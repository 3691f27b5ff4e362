/**
 * `npm run bench -- crash`: a browser killed with SIGKILL at random moments of a spoken
 * case, and once with its disk full. Counts what had been acknowledged and is gone
 * (it must be nothing), chains that do not hold, cases that do not go on. `CRASHES` says
 * how often (50); the disk is a tmpfs where this may be mounted.
 */
import { execFileSync } from 'node:child_process';
import { mkdtemp, rm, statfs, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import type { CrashPage } from './crash-page';

declare const crashPage: CrashPage;

/** The page's files come from the bench; nothing listens at this address. */
const ADDRESS = 'http://localhost:4173/';
/** A browser is killed at a moment between these, in milliseconds after its case goes on. */
const SOONEST_MS = 20;
const LATEST_MS = 900;
/** Room for the profile on the small disk, in megabytes. */
const DISK_MB = 96;
/** Far more entries than find room there. */
const DISK_ENTRIES = 1_000_000;

interface CrashFigures {
  readonly crashes: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly chainsBroken: number;
  readonly notResumed: number;
  readonly mended: number;
  /** Cases that the browser had thrown away and the second copy gave back. */
  readonly restored: number;
  readonly casesClosed: number;
}

/** Runs both. */
export async function benchCrash(): Promise<object> {
  const script = await bundle('tests/bench/crash-page.ts');
  const crashes = await countCrashes(script, Number(process.env['CRASHES'] ?? 50));
  return { ...crashes, fullDisk: await fillDisk(script) };
}

async function openPage(profile: string, script: string, acknowledge: (entries: number) => void) {
  const browser = await startChromium(profile);
  const page = await openBundledPage(browser.context, ADDRESS, script);
  await page.exposeFunction('acknowledge', acknowledge);
  await page.waitForFunction(() => 'acknowledge' in globalThis && 'crashPage' in globalThis);
  return { ...browser, page };
}

async function countCrashes(script: string, crashes: number): Promise<CrashFigures> {
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-crash-'));
  const sum = { acknowledged: 0, lost: 0, chainsBroken: 0, notResumed: 0, mended: 0, restored: 0, casesClosed: 0 }; // prettier-ignore
  let known = 0;
  let number = 0;
  for (let crash = 0; crash < crashes; crash += 1) {
    const name = `case-${number}`;
    const { page, kill } = await openPage(profile, script, (entries) => (known = Math.max(known, entries))); // prettier-ignore
    const running = page.evaluate((it) => crashPage.run(it), name).catch(() => 'cut off' as const);
    const delayMs = SOONEST_MS + Math.random() * (LATEST_MS - SOONEST_MS);
    const ended = await Promise.race([running, new Promise<null>((resolve) => setTimeout(() => resolve(null), delayMs))]); // prettier-ignore
    await kill();

    const again = await openPage(profile, script, () => undefined);
    const found = await again.page.evaluate((it) => crashPage.find(it), name);
    await again.kill();
    sum.lost += Math.max(0, known - found.entries);
    sum.chainsBroken += found.isWhole ? 0 : 1;
    sum.notResumed += found.isResumed ? 0 : 1;
    sum.mended += found.mended;
    sum.restored += found.restored;
    if (ended === 'closed') {
      sum.acknowledged += known;
      sum.casesClosed += 1;
      number += 1;
      known = 0;
    }
    if (!found.isWhole || known > found.entries)
      console.error(JSON.stringify({ crash, known, found }));
    // Each loss counts once.
    known = Math.min(known, found.entries);
  }
  await rm(profile, { recursive: true, force: true });
  return { crashes, ...sum, acknowledged: sum.acknowledged + known };
}

/** A case on a disk that fills up: what was acknowledged is there when there is room again. */
async function fillDisk(script: string): Promise<object> {
  const disk = await mkdtemp(join(tmpdir(), 'cuewall-disk-'));
  try {
    execFileSync('mount', ['-t', 'tmpfs', '-o', `size=${DISK_MB}m`, 'tmpfs', disk], {
      stdio: 'pipe',
    });
  } catch (reason) {
    return { skipped: `no tmpfs may be mounted here: ${String(reason).split('\n')[0]}` };
  }
  try {
    let known = 0;
    const { page, kill } = await openPage(join(disk, 'profile'), script, (entries) => (known = entries)); // prettier-ignore
    const running = page
      .evaluate((it) => crashPage.run('case-disk', it), DISK_ENTRIES)
      .catch(() => 'cut off' as const);
    while (known < 20) await new Promise((resolve) => setTimeout(resolve, 20));
    const filler = join(disk, 'filler');
    await fillUp(filler, disk);
    const ended = await running;
    const knownWhenFull = known;
    await rm(filler);
    // The wall went on from memory; with room again what waited is saved without a person.
    const savedLater =
      ended === 'not saved' ? await page.evaluate(() => crashPage.untilSaved()) : 0;
    known = Math.max(known, savedLater);
    await kill();
    const again = await openPage(join(disk, 'profile'), script, () => undefined);
    const found = await again.page.evaluate(() => crashPage.find('case-disk'));
    await again.kill();
    return {
      ended,
      knownWhenFull,
      savedLater,
      acknowledged: known,
      lost: Math.max(0, known - found.entries),
      ...found,
    };
  } finally {
    execFileSync('umount', ['-l', disk]);
    await rm(disk, { recursive: true, force: true });
  }
}

/** Leaves not a page of room. */
async function fillUp(path: string, disk: string): Promise<void> {
  const { bavail, bsize } = await statfs(disk);
  try {
    await writeFile(path, Buffer.alloc(bavail * bsize));
    await writeFile(path, Buffer.alloc(DISK_MB * 1_000_000), { flag: 'a' });
  } catch (reason) {
    if (!(reason instanceof Error && 'code' in reason && reason.code === 'ENOSPC')) throw reason;
  }
}
