/** The check that rules and tests agree. Its invented ids are not looked at by the check itself. */
import { expect, test } from 'vitest';
import { compareSpecIds, findRuleIds, findTestedIds } from '../../src/cli/spec-ids';

test('[TOO8] finds rules in the docs and ids at the beginning of test names', () => {
  expect(findRuleIds('- **AAA1** One.\n- **AAA2** Two, not **bold** text.')).toEqual([
    'AAA1',
    'AAA2',
  ]);
  const source = "test('[AAA1] one'); test(`[AAA2] [AAA3] ${two}`); test('about [AAA4]');";
  expect(findTestedIds(source)).toEqual(['AAA1', 'AAA2', 'AAA3']);
});

test('[TOO8] names rules without tests, tests without rules, and rules given twice', () => {
  expect(compareSpecIds(['AAA1', 'AAA2', 'AAA2'], ['AAA2', 'AAA3'])).toEqual({
    untested: ['AAA1'],
    unknown: ['AAA3'],
    doubled: ['AAA2'],
  });
});
