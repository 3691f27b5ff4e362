/**
 * Compares the rules in the docs with the tests: a rule without a test is a wish, a
 * test without a rule tests what nobody asked for.
 */

export interface SpecIdFindings {
  /** Ids in the docs that no test name begins with. */
  readonly untested: readonly string[];
  /** Ids in test names that the docs don't have. */
  readonly unknown: readonly string[];
  /** Ids that the docs give twice. */
  readonly doubled: readonly string[];
}

/** Rules in a text of the docs: lines like "- **REC3** sentence." */
export function findRuleIds(markdown: string): readonly string[] {
  return [...markdown.matchAll(/\*\*([A-Z]{2,5}\d+)\*\*/g)].map(([, id]) => id ?? '');
}

/** Rules that test names in a source text begin with: '[REC3] refuses …'. One name may begin with several. */
export function findTestedIds(source: string): readonly string[] {
  return [...source.matchAll(/['"`]((?:\[[A-Z]{2,5}\d+\]\s*)+)/g)].flatMap(([, ids]) =>
    [...(ids ?? '').matchAll(/[A-Z]{2,5}\d+/g)].map(([id]) => id),
  );
}

/** What does not agree between rules and tests. */
export function compareSpecIds(
  rules: readonly string[],
  tested: readonly string[],
): SpecIdFindings {
  const [ruleSet, testedSet] = [new Set(rules), new Set(tested)];
  return {
    untested: [...ruleSet].filter((id) => !testedSet.has(id)),
    unknown: [...testedSet].filter((id) => !ruleSet.has(id)),
    doubled: [...ruleSet].filter((id) => rules.indexOf(id) !== rules.lastIndexOf(id)),
  };
}
