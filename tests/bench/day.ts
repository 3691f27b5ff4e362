/**
 * `npm run bench -- day`: a case of twelve hours (50,000 entries) in accelerated time,
 * through a session on real IndexedDB with strict durability. How long an order takes
 * and how much memory is in use at the beginning and at the end; how long cases of
 * several lengths take to be taken up again; then the same case in the product's own
 * windows. `ENTRIES` makes it shorter.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from '@playwright/test';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import type { DayPage } from './day-page';
import { measureScreens } from './day-screens';

declare const dayPage: DayPage;

const ADDRESS = 'http://localhost:4173/';
const PARTS = 10;
/** Parts of the case after which the product's window is looked at. */
const SCREEN_MARKS = [0.1, 0.2, 0.5, 1];

interface PartFigures {
  readonly entries: number;
  readonly p50Ms: number;
  readonly p99Ms: number;
  /** In use after a collection, and beside it what entries lie deflated. */
  readonly heapMb: number;
  readonly packedMb: number;
}

/** Runs the day; takes some minutes, and needs the built product. */
export async function benchDay(): Promise<object> {
  const entries = Number(process.env['ENTRIES'] ?? 50_000);
  const session = await measureSession(entries);
  return { session, screens: await measureScreens(SCREEN_MARKS.map((part) => part * entries)) };
}

/** The case and its record alone. */
async function measureSession(entries: number): Promise<object> {
  const script = await bundle('tests/bench/day-page.ts');
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-day-'));
  const { context, kill } = await startChromium(profile);
  try {
    const page = await openBundledPage(context, ADDRESS, script);
    const parts: PartFigures[] = [];
    for (let part = 1; part <= PARTS; part += 1) {
      const until = Math.round((entries / PARTS) * part);
      const times = await page.evaluate((it) => dayPage.goOn(it), until);
      const sorted = [...times].sort((a, b) => a - b);
      const heapMb = await heapOf(context, page);
      const packedMb = toMb(await page.evaluate(() => dayPage.packedBytes()));
      const [p50Ms, p99Ms] = [atRank(sorted, 0.5), atRank(sorted, 0.99)];
      parts.push({ entries: until, p50Ms, p99Ms, heapMb, packedMb });
      console.error(JSON.stringify(parts.at(-1)));
    }
    await page.close();
    const takeUpMs: Record<string, object> = {};
    for (const count of [500, 5_000]) {
      const preparing = await openBundledPage(context, ADDRESS, script);
      await preparing.evaluate(([name, it]) => dayPage.prepare(name, it), [`case-${count}`, count] as const); // prettier-ignore
      await preparing.close();
      takeUpMs[count] = await takeUp(context, script, `case-${count}`);
    }
    takeUpMs[entries] = await takeUp(context, script, 'case-day');
    const [first, last] = [parts[0], parts.at(-1)];
    return {
      chromium: context.browser()?.version(),
      parts,
      // The last tenth over the first.
      heapRatio: ratio(first?.heapMb, last?.heapMb),
      p50Ratio: ratio(first?.p50Ms, last?.p50Ms),
      takeUpMs,
    };
  } finally {
    await kill();
    await rm(profile, { recursive: true, force: true });
  }
}

/** In a fresh window, as after a restart. */
async function takeUp(context: BrowserContext, script: string, name: string): Promise<object> {
  const page = await openBundledPage(context, ADDRESS, script);
  const took = await page.evaluate((it) => dayPage.takeUp(it), name);
  await page.close();
  const another = await openBundledPage(context, ADDRESS, script);
  const whole = await another.evaluate((it) => dayPage.takeUpWhole(it), name);
  await another.close();
  return Object.fromEntries(
    Object.entries({ ...took, withoutSnapshot: whole }).map(([key, ms]) => [key, Math.round(ms)]),
  );
}

async function heapOf(context: BrowserContext, page: Page): Promise<number> {
  const devtools = await context.newCDPSession(page);
  await devtools.send('HeapProfiler.collectGarbage');
  const { usedSize } = await devtools.send('Runtime.getHeapUsage');
  await devtools.detach();
  return toMb(usedSize);
}

function ratio(first = Number.NaN, last = Number.NaN): number {
  return Math.round((last / first) * 1000) / 1000;
}

function toMb(bytes: number): number {
  return Math.round(bytes / 10_000) / 100;
}

/** Nearest-rank percentile of sorted values. */
function atRank(sorted: readonly number[], share: number): number {
  const value = sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN;
  return Math.round(value * 100) / 100;
}
