/** Texts: what stands in braces must be a capture or a derived value of the file, and still fit when filled in. */
import type { Expanded } from '../expanded';
import type { Procedure } from '../format';
import { joinUnit, listLegalValues } from '../values-of';
import { found, unless } from './finding';
import type { Finding } from './finding';

/** How long may a text be once its values are filled in, to fit its place on the wall? */
const MOST_CHARS = { title: 34, cue: 32, detail: 120 } as const;

/** Checks the texts of all steps and of the hold points' conditions. */
export function checkTexts(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const longest = longestValues(procedure, expanded);
  const unknownIn = (path: string, text: string) =>
    [...text.matchAll(/\{([^}]*)\}/g)]
      .map(([, name = '']) => name)
      .filter((name) => !longest.has(name))
      .map((name) => found(path, 'a capture or derived value in braces', `{${name}}`));
  return [
    ...expanded.steps.flatMap((step) => {
      const path = `steps.${step.id}`;
      return [
        ...unknownIn(path, `${step.title} ${step.detail} ${step.cue}`),
        ...(['title', 'cue', 'detail'] as const).flatMap((key) => {
          const filled = step[key].replace(
            /\{([^}]*)\}/g,
            (_, name: string) => longest.get(name) ?? '?',
          );
          return unless(
            filled.length <= MOST_CHARS[key],
            `${path}.${key}`,
            `at most ${MOST_CHARS[key]} letters when filled in`,
            `${filled.length}: ${filled}`,
          );
        }),
      ];
    }),
    ...expanded.holdPoints.flatMap(({ id, needs }) =>
      needs.flatMap(({ missing, met }) => unknownIn(`holdPoints.${id}`, `${missing} ${met}`)),
    ),
  ];
}

/** The longest text that each capture and derived value can become. */
function longestValues(procedure: Procedure, { captures }: Expanded): ReadonlyMap<string, string> {
  const longest = (texts: readonly string[]) =>
    texts.reduce((best, text) => (text.length > best.length ? text : best), '');
  return new Map<string, string>([
    ...captures.map(
      (capture) => [capture.id, longest(listLegalValues(capture).map(({ text }) => text))] as const,
    ),
    ...procedure.derived.map(({ id, unit }) => [id, joinUnit(999, unit)] as const),
  ]);
}
