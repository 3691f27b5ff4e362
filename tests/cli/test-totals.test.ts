/** The sum over both test runners. */
import { expect, test } from 'vitest';
import {
  addTotals,
  listVitestFailures,
  readPlaywrightTotals,
  readVitestTotals,
  totalsToLine,
} from '../../src/cli/test-totals';

const vitestReport = {
  numPassedTests: 7,
  numFailedTests: 1,
  numPendingTests: 2,
  numTodoTests: 1,
  testResults: [
    { status: 'failed', assertionResults: [{ status: 'failed' }, { status: 'passed' }] },
    { status: 'failed', assertionResults: [] },
    { status: 'passed', assertionResults: [{ status: 'passed' }] },
  ],
};

test('[TOO10] a test file that could not be loaded counts as a failure', () => {
  expect(readVitestTotals(vitestReport)).toEqual({ passed: 7, failed: 2, skipped: 3 });
});

test('[TOO10] what failed is named with its message, files that could not be loaded too', () => {
  const testResults = [
    {
      status: 'failed',
      name: 'a.test.ts',
      assertionResults: [
        { status: 'passed', fullName: 'goes', failureMessages: [] },
        { status: 'failed', fullName: 'goes wrong', failureMessages: ['2 is not 3'] },
      ],
    },
    { status: 'failed', name: 'b.test.ts', message: 'No such module.', assertionResults: [] },
    { status: 'passed', name: 'c.test.ts', message: '', assertionResults: [] },
  ];
  expect(listVitestFailures({ ...vitestReport, testResults })).toEqual([
    'a.test.ts: goes wrong\n2 is not 3',
    'b.test.ts\nNo such module.',
  ]);
});

test('[TOO10] a browser test that passed only when repeated counts as a failure', () => {
  const report = { errors: [{}], stats: { expected: 5, unexpected: 1, flaky: 1, skipped: 4 } };
  expect(readPlaywrightTotals(report)).toEqual({ passed: 5, failed: 3, skipped: 4 });
});

test('[TOO10] the last line sums both runners', () => {
  const sum = addTotals(readVitestTotals(vitestReport), { passed: 5, failed: 0, skipped: 1 });
  expect(totalsToLine(sum)).toBe('12 passed, 2 failed, 4 skipped');
});

test('[TOO10] a report of another form is an error, not a zero', () => {
  expect(() => readVitestTotals({})).toThrow();
  expect(() => readPlaywrightTotals({ stats: {} })).toThrow();
});
