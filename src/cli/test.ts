/**
 * `npm test`: everything from a bare machine to the last line, which is
 * `N passed, N failed, N skipped` over both test runners.
 */
import { existsSync } from 'node:fs';
import { mkdir, readFile, rm } from 'node:fs/promises';
import { build } from './build';
import { CHROMIUM_PATH, installDebianPackages } from './debian-packages';
import { ROOT, runTool } from './run-program';
import {
  addTotals,
  listVitestFailures,
  readPlaywrightTotals,
  readVitestTotals,
  totalsToLine,
} from './test-totals';
import type { TestTotals } from './test-totals';

const CACHE = `${ROOT}.cache/`;
const VITEST_REPORT = `${CACHE}vitest.json`;
/** A runner that left no report, or a build that failed, counts as one failure. */
const ONE_FAILURE: TestTotals = { passed: 0, failed: 1, skipped: 0 };

interface Outcome {
  readonly code: number;
  readonly totals: TestTotals;
}

/** Gives 0 where every test passed or was skipped for a reason that was said. */
export async function run(): Promise<number> {
  await installDebianPackages();
  await mkdir(CACHE, { recursive: true });
  const built = await build();
  const unit = await runVitest();
  const browser = built === 0 ? await runPlaywright() : { code: built, totals: ONE_FAILURE };
  const totals = addTotals(unit.totals, browser.totals);
  // The browser's failures have just been said; those before them are far up by now.
  if (unit.totals.failed > 0) await sayVitestFailures();
  console.log(totalsToLine(totals));
  return totals.failed > 0 || unit.code !== 0 || browser.code !== 0 ? 1 : 0;
}

async function runVitest(): Promise<Outcome> {
  await rm(VITEST_REPORT, { force: true });
  const reporters = ['--reporter=default', '--reporter=json'];
  const code = await runTool('vitest', ['run', ...reporters, `--outputFile.json=${VITEST_REPORT}`]);
  return { code, totals: await readTotals(VITEST_REPORT, readVitestTotals, code) };
}

async function sayVitestFailures(): Promise<void> {
  if (!existsSync(VITEST_REPORT)) return;
  const failures = listVitestFailures(JSON.parse(await readFile(VITEST_REPORT, 'utf8')));
  for (const failure of failures) console.error(`\nFAILED ${failure}`);
}

async function runPlaywright(): Promise<Outcome> {
  const report = `${CACHE}playwright.json`;
  await rm(report, { force: true });
  const hasChromium = existsSync(CHROMIUM_PATH);
  if (!hasChromium) console.error(`Missing: ${CHROMIUM_PATH}. The tests in a browser are skipped.`);
  // Without a browser the tests are only counted.
  const args = ['test', '--reporter=list,json', ...(hasChromium ? [] : ['--list'])];
  const code = await runTool('playwright', args, { PLAYWRIGHT_JSON_OUTPUT_FILE: report });
  const totals = await readTotals(report, readPlaywrightTotals, code);
  if (hasChromium) return { code, totals };
  const { passed, failed, skipped } = totals;
  return { code, totals: { passed: 0, failed, skipped: passed + skipped } };
}

async function readTotals(
  report: string,
  read: (report: unknown) => TestTotals,
  code: number,
): Promise<TestTotals> {
  if (!existsSync(report)) return ONE_FAILURE;
  const totals = read(JSON.parse(await readFile(report, 'utf8')));
  // A runner that fails without a failed test (an error outside of tests) must show in the sum.
  return code !== 0 && totals.failed === 0 ? addTotals(totals, ONE_FAILURE) : totals;
}
