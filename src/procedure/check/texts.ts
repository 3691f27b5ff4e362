/** Texts: what stands in braces must be a capture or a derived value of the file, and still fit when filled in. */
import type { Expanded } from '../expanded';
import type { Procedure } from '../format';
import {
  deriveValue, isFree, joinUnit, listLegalValues, MOST_LABEL_CHARS, MOST_NOTE_CHARS,
} from '../values-of'; // prettier-ignore
import { found, unless } from './finding';
import type { Finding } from './finding';

/** How long may a text be once its values are filled in, to fit its place on the wall? */
const MOST_CHARS = { title: 34, short: 24, cue: 32, detail: 120 } as const;
/** The same for the texts of a hold point's needs. */
const MOST_NEED_CHARS = 48;

const BRACES = /\{([^}]*)\}/g;

/** Checks the texts of all steps and of the hold points' needs. */
export function checkTexts(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const longest = longestValues(procedure, expanded);
  const check = (path: string, text: string, most: number): readonly Finding[] => {
    const unknown = [...text.matchAll(BRACES)].flatMap(([, name = '']) =>
      longest.has(name) ? [] : [name],
    );
    if (unknown.length > 0) {
      return unknown.map((name) =>
        found('text-unknown-value', path, 'a capture or derived value in braces', `{${name}}`),
      );
    }
    const filled = text.replace(BRACES, (_, name: string) => longest.get(name) ?? '?');
    return unless(
      filled.length <= most,
      'text-too-long',
      path,
      `at most ${most} letters when filled in`,
      `${filled.length}: ${filled.slice(0, 150)}`,
    );
  };
  return [
    ...expanded.steps.flatMap((step) =>
      (['title', 'short', 'cue', 'detail'] as const).flatMap((key) =>
        check(`steps.${step.id}.${key}`, step[key], MOST_CHARS[key]),
      ),
    ),
    ...expanded.holdPoints.flatMap(({ id, needs }) =>
      needs.flatMap((need, index) =>
        (['missing', 'met'] as const).flatMap((key) =>
          check(`holdPoints.${id}.needs.${index}.${key}`, need[key], MOST_NEED_CHARS),
        ),
      ),
    ),
  ];
}

/** The longest text that each capture and derived value can become. */
function longestValues(procedure: Procedure, { captures }: Expanded): ReadonlyMap<string, string> {
  const longest = (texts: readonly string[]) =>
    texts.reduce((best, text) => (text.length > best.length ? text : best), '?');
  return new Map<string, string>([
    ...captures.map((capture) => {
      const free = capture.kind === 'note' ? MOST_NOTE_CHARS : MOST_LABEL_CHARS;
      const texts = isFree(capture)
        ? ['x'.repeat(free)]
        : listLegalValues(capture).map(({ text }) => text);
      return [capture.id, longest(texts)] as const;
    }),
    ...procedure.derived.map((spec) => {
      const source = captures.find(({ id }) => id === spec.from);
      const values = source && 'values' in source ? source.values : [];
      const texts = values.map((value) => joinUnit(deriveValue(spec, value) ?? 0, spec.unit));
      return [spec.id, longest(texts)] as const;
    }),
  ]);
}
