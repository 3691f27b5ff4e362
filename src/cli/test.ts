/**
 * `npm test`: everything from a bare machine to the last line, which is
 * `N passed, N failed, N skipped` over both test runners.
 */
import { existsSync } from 'node:fs';
import { mkdir, readFile, rm } from 'node:fs/promises';
import { build } from './build';
import { CHROMIUM_PATH, installDebianPackages } from './debian-packages';
import { ROOT, runTool } from './run-program';
import { addTotals, readPlaywrightTotals, readVitestTotals, totalsToLine } from './test-totals';
import type { TestTotals } from './test-totals';

const CACHE = `${ROOT}.cache/`;
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
  console.log(totalsToLine(totals));
  return totals.failed > 0 || unit.code !== 0 || browser.code !== 0 ? 1 : 0;
}

async function runVitest(): Promise<Outcome> {
  const report = `${CACHE}vitest.json`;
  await rm(report, { force: true });
  const args = ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`];
  const code = await runTool('vitest', args);
  return { code, totals: await readTotals(report, readVitestTotals, code) };
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
