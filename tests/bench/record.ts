/**
 * `npm run bench -- record`: how fast entries become durable in real Chromium, against
 * a bare IndexedDB loop in the same page and the same run, on a profile on disk.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import type { LaneTimes, RecordBenchPage } from './record-page';

declare const recordBenchPage: RecordBenchPage;

/** Lanes take turns, so that a busy moment of the machine hits all of them. */
const ROUNDS = 11;
const ENTRIES_PER_ROUND = 50;
/** Lengths of cases that are read back; the longest is twelve hours of work. */
const CASE_LENGTHS = [500, 5_000, 50_000];

interface LaneFigures {
  readonly perSecond: number;
  readonly p50Ms: number;
  readonly p99Ms: number;
}

export interface RecordBench {
  readonly chromium: string;
  readonly profileOn: string;
  readonly appends: number;
  readonly lanes: Readonly<Record<string, LaneFigures>>;
  /** Our median over that of the bare loop. */
  readonly strictRatio: number;
  readonly relaxedRatio: number;
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
    const times = await page.evaluate(
      ([rounds, perRound]) => recordBenchPage.measure(rounds, perRound),
      [ROUNDS, ENTRIES_PER_ROUND] as const,
    );
    const readMs: Record<string, number> = {};
    for (const count of CASE_LENGTHS) {
      const ms = await page.evaluate((it) => recordBenchPage.measureRead(it), count);
      readMs[String(count)] = round(ms);
    }
    const lanes = toFigures(times);
    return {
      chromium: context.browser()?.version() ?? 'unknown',
      profileOn: tmpdir(),
      appends: (ROUNDS - 1) * ENTRIES_PER_ROUND,
      lanes,
      strictRatio: toRatio(lanes['ours strict'], lanes['bare strict']),
      relaxedRatio: toRatio(lanes['ours relaxed'], lanes['bare relaxed']),
      readMs,
    };
  } finally {
    await kill();
    await rm(profile, { recursive: true, force: true });
  }
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

function toRatio(ours: LaneFigures | undefined, bare: LaneFigures | undefined): number {
  return round((ours?.p50Ms ?? Number.NaN) / (bare?.p50Ms ?? Number.NaN));
}

function round(value: number): number {
  return Math.round(value * 100) / 100;
}
