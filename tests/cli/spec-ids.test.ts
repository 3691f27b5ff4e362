/** The check that rules and tests agree. \x5b is a bracket that the check itself does not see here. */
import { expect, test } from 'vitest';
import { compareSpecIds, findRuleIds, findTestedIds } from '../../src/cli/spec-ids';

test('[TOO8] finds rules in the docs and ids at the beginning of test names', () => {
  expect(findRuleIds('- **AAA1** One.\n- **AAA2** Two, not **bold** text.')).toEqual([
    'AAA1',
    'AAA2',
  ]);
  const source =
    "test('\x5bAAA1] one'); test(`\x5bAAA2] \x5bAAA3] ${two}`); test('about \x5bAAA4]');";
  expect(findTestedIds(source)).toEqual(['AAA1', 'AAA2', 'AAA3']);
});

test('[TOO8] names rules without tests, tests without rules, and rules given twice', () => {
  expect(compareSpecIds(['AAA1', 'AAA2', 'AAA2'], ['AAA2', 'AAA3'])).toEqual({
    untested: ['AAA1'],
    unknown: ['AAA3'],
    doubled: ['AAA2'],
  });
});
