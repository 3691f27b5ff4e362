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
import { bundle } from '../browser/bundled-page';
import type { CrashPage } from '../browser/crash-page';
import { countCrashes, openCrashPage } from '../browser/crashes';

declare const crashPage: CrashPage;

/** Room for the profile on the small disk, in megabytes. */
const DISK_MB = 96;
/** Far more entries than find room there. */
const DISK_ENTRIES = 1_000_000;

/** Runs both. */
export async function benchCrash(): Promise<object> {
  const script = await bundle('tests/browser/crash-page.ts');
  const crashes = await countCrashes(script, Number(process.env['CRASHES'] ?? 50));
  return { ...crashes, fullDisk: await fillDisk(script) };
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
    const { page, kill } = await openCrashPage(join(disk, 'profile'), script, (entries) => (known = entries)); // prettier-ignore
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
    const again = await openCrashPage(join(disk, 'profile'), script);
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
