/**
 * Roles, not people. Looks whether a label may name a person or carry a number, so
 * that the set-up can warn; it never refuses, because it can be wrong.
 */

/** The roles that a case is set up with. */
export const ROLES = [
  { role: 'surgeon', name: 'Surgeon', example: 'surgeon A' },
  { role: 'scrub', name: 'Scrub practitioner', example: 'scrub A' },
  { role: 'circulating', name: 'Circulating nurse', example: 'nurse B' },
] as const;

/** Longest label that the screens have room for. */
export const MAX_LABEL = 24;

/** Words that may stand in a label with a capital. */
const ROLE_WORDS = new Set(
  'surgeon scrub practitioner nurse circulating assistant trainee consultant registrar student team lead senior junior first second third theatre room left right'.split(
    ' ',
  ),
);

/** Words that stand in front of names. */
const TITLES = new Set(['dr', 'mr', 'mrs', 'ms', 'miss', 'mx', 'prof', 'professor', 'sister']);

/** So many digits in a row may be a staff or telephone number. */
const MANY_DIGITS = /\d[\d\s./-]{2,}\d/;

/** A gentle warning; null where the label looks like a role. */
export function warnAboutLabel(label: string): string | null {
  const text = label.trim();
  if (text === '') return null;
  if (MANY_DIGITS.test(text)) return 'This looks like a number of a person. A role is enough.';
  const words = text.split(/[\s,.]+/).filter((word) => word !== '');
  const isNameLike = words.some(
    (word) =>
      TITLES.has(word.toLowerCase()) ||
      (/^\p{Lu}[\p{L}'’-]{2,}$/u.test(word) && !ROLE_WORDS.has(word.toLowerCase())),
  );
  return isNameLike ? 'This looks like a name. A role such as “surgeon A” is enough.' : null;
}
