/**
 * Sums what the two test runners report. A file that could not even be loaded counts
 * as one failure: it hides tests.
 */
import * as v from 'valibot';

export interface TestTotals {
  readonly passed: number;
  readonly failed: number;
  readonly skipped: number;
}

const VitestTest = v.object({
  status: v.string(),
  fullName: v.optional(v.string(), ''),
  failureMessages: v.optional(v.nullable(v.array(v.string())), []),
});

const VitestFile = v.object({
  status: v.string(),
  name: v.optional(v.string(), ''),
  message: v.optional(v.string(), ''),
  assertionResults: v.array(VitestTest),
});

const VitestReport = v.object({
  numPassedTests: v.number(),
  numFailedTests: v.number(),
  numPendingTests: v.number(),
  numTodoTests: v.number(),
  testResults: v.array(VitestFile),
});

const PlaywrightReport = v.object({
  errors: v.array(v.unknown()),
  stats: v.object({
    expected: v.number(),
    unexpected: v.number(),
    flaky: v.number(),
    skipped: v.number(),
  }),
});

/** Totals in Vitest's JSON report. */
export function readVitestTotals(report: unknown): TestTotals {
  const { testResults, ...counts } = v.parse(VitestReport, report);
  const broken = testResults.filter(isBroken);
  return {
    passed: counts.numPassedTests,
    failed: counts.numFailedTests + broken.length,
    skipped: counts.numPendingTests + counts.numTodoTests,
  };
}

/** What failed, by file and name, each with its message: it is said again at the end, where a long log is looked at first. */
export function listVitestFailures(report: unknown): readonly string[] {
  return v.parse(VitestReport, report).testResults.flatMap((file) => {
    if (isBroken(file)) return [`${file.name}\n${file.message}`];
    const failed = file.assertionResults.filter(({ status }) => status === 'failed');
    return failed.map(
      (test) => `${file.name}: ${test.fullName}\n${(test.failureMessages ?? []).join('\n')}`,
    );
  });
}

/** A file that failed without a failed test could not even be loaded. */
function isBroken({ status, assertionResults }: v.InferOutput<typeof VitestFile>): boolean {
  return status === 'failed' && !assertionResults.some((test) => test.status === 'failed');
}

/** Totals in Playwright's JSON report. A test that passed only when repeated counts as failed. */
export function readPlaywrightTotals(report: unknown): TestTotals {
  const { errors, stats } = v.parse(PlaywrightReport, report);
  return {
    passed: stats.expected,
    failed: stats.unexpected + stats.flaky + errors.length,
    skipped: stats.skipped,
  };
}

/** Both together. */
export function addTotals(a: TestTotals, b: TestTotals): TestTotals {
  return {
    passed: a.passed + b.passed,
    failed: a.failed + b.failed,
    skipped: a.skipped + b.skipped,
  };
}

/** The line that ends a test run. */
export function totalsToLine({ passed, failed, skipped }: TestTotals): string {
  return `${passed} passed, ${failed} failed, ${skipped} skipped`;
}
