/**
 * `npm run bench -- record`: how fast entries become durable in real Chromium, against
 * a bare IndexedDB loop and SQLite's WebAssembly build in the same page and the same run,
 * on a profile on disk; what a seal and the lock cost. Cases as they are taken up: bench day.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import type { LaneTimes, RecordBenchPage } from './record-page';

declare const recordBenchPage: RecordBenchPage;

/** Lanes take turns, so that a busy moment of the machine hits all of them. */
const ROUNDS = 11;
const ENTRIES_PER_ROUND = 50;
/** Entries over which the cost of one is averaged. */
const COSTED = 2_000;
/** Lengths of cases that are read back; the longest is twelve hours of work. */
const CASE_LENGTHS = [500, 5_000, 50_000];

interface LaneFigures {
  readonly perSecond: number;
  readonly p50Ms: number;
  readonly p99Ms: number;
}

export interface RecordBench {
  readonly chromium: string;
  readonly sqlite: string;
  /** Processes that wanted to run in the last minute: with more than there are cores, times are not the product's. */
  readonly load: number;
  readonly profileOn: string;
  readonly appends: number;
  readonly lanes: Readonly<Record<string, LaneFigures>>;
  /** Our mean over that of the bare loop in the same round, the median of all rounds: clocks of a page count tenths of a millisecond. */
  readonly strictRatio: number;
  readonly relaxedRatio: number;
  /** The same over SQLite with a sync for each transaction. */
  readonly againstSqlite: number;
  /** What one entry costs in microseconds, and an unlocking in milliseconds. */
  readonly costs: Readonly<Record<'sealUs' | 'encryptUs' | 'decryptUs' | 'unlockMs', number>>;
  /** Milliseconds to read a case, by number of entries. */
  readonly readMs: Readonly<Record<string, number>>;
}

/** Runs the measurement; takes well under a minute. */
export async function benchRecord(): Promise<RecordBench> {
  const script = await bundle('tests/bench/record-page.ts');
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-bench-'));
  const { context, kill } = await startChromium(profile);
  try {
    // The page's files come from here; nothing listens at this address.
    const page = await openBundledPage(context, 'http://localhost:4173/', script);
    const sqlite = await serveSqlite(page);
    const times = await page.evaluate(
      ([rounds, perRound, worker]) => recordBenchPage.measure(rounds, perRound, worker),
      [ROUNDS, ENTRIES_PER_ROUND, sqlite] as const,
    );
    const costs = await page.evaluate((count) => recordBenchPage.measureCosts(count), COSTED);
    const unlockMs = await page.evaluate(() => recordBenchPage.measureUnlock());
    const readMs: Record<string, number> = {};
    for (const count of CASE_LENGTHS) {
      const ms = await page.evaluate((it) => recordBenchPage.measureRead(it), count);
      readMs[String(count)] = round(ms);
    }
    const lanes = toFigures(times);
    return {
      chromium: context.browser()?.version() ?? 'unknown',
      sqlite: await page.evaluate(() => recordBenchPage.sqliteVersion()),
      load: loadavg()[0] ?? Number.NaN,
      profileOn: tmpdir(),
      appends: (ROUNDS - 1) * ENTRIES_PER_ROUND,
      lanes,
      strictRatio: toRatio(times['ours strict'], times['bare strict']),
      relaxedRatio: toRatio(times['ours relaxed'], times['bare relaxed']),
      againstSqlite: toRatio(times['ours strict'], times['sqlite strict']),
      costs: {
        sealUs: round(costs.sealUs),
        encryptUs: round(costs.encryptUs),
        decryptUs: round(costs.decryptUs),
        unlockMs: round(unlockMs),
      },
      readMs,
    };
  } finally {
    await kill();
    await rm(profile, { recursive: true, force: true });
  }
}

/** Puts the worker, its WebAssembly inside, where the page can fetch it; gives where. */
async function serveSqlite(page: Page): Promise<string> {
  const script = await bundle('tests/bench/sqlite.worker.ts');
  // A script that is no module has no import.meta.
  const body = script.replaceAll('{}.url', 'self.location.href');
  await page.route('**/sqlite.worker.js?*', (route) =>
    route.fulfill({ contentType: 'text/javascript', body }),
  );
  // Its pool of files needs none of its other way to them, which wants a file of its own.
  return '/sqlite.worker.js?opfs-disable';
}

function toFigures(times: LaneTimes): Record<string, LaneFigures> {
  return Object.fromEntries(
    Object.entries(times).map(([name, unsorted]) => {
      const sorted = [...unsorted].sort((a, b) => a - b);
      const sumMs = sorted.reduce((sum, ms) => sum + ms, 0);
      const perSecond = round((sorted.length / sumMs) * 1000);
      return [name, { perSecond, p50Ms: atRank(sorted, 0.5), p99Ms: atRank(sorted, 0.99) }];
    }),
  );
}

/** Nearest-rank percentile of sorted values. */
function atRank(sorted: readonly number[], share: number): number {
  return round(sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN);
}

function toRatio(ours: readonly number[] = [], bare: readonly number[] = []): number {
  const [over, under] = [roundMeans(ours), roundMeans(bare)];
  const ratios = over.map((ms, index) => ms / (under[index] ?? Number.NaN));
  return atRank(ratios.sort((a, b) => a - b), 0.5); // prettier-ignore
}

function roundMeans(times: readonly number[]): number[] {
  return Array.from({ length: times.length / ENTRIES_PER_ROUND }, (_, index) => {
    const round = times.slice(index * ENTRIES_PER_ROUND, (index + 1) * ENTRIES_PER_ROUND);
    return round.reduce((sum, ms) => sum + ms, 0) / ENTRIES_PER_ROUND;
  });
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
