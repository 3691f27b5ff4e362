/**
 * Signs of a person in what somebody types: a name, a date of birth, a hospital number.
 * The record is about an operation and never about who it is done to. A sign is told and
 * nothing is refused, because this can be wrong both ways.
 */

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
/** Six digits or more, however they are set apart, or letters with five or more: numbers of patients are made so (common practice). */
const HOSPITAL_NUMBER = /\d(?:[\s-]?\d){5,}|\b\p{L}{1,3}[\s-]?\d{5,}/u;
/** A whole date with its year, in figures or with the month as a word; or the words for it. */
const DATE_OF_BIRTH =
  /\b\d{1,2}[./-]\d{1,2}[./-](?:\d{4}|\d{2})\b|\b\d{4}-\d{2}-\d{2}\b|\b\d{1,2}(?:st|nd|rd|th)?\s+(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]*\.?\s+(?:\d{4}|\d{2})\b|\b(?:d\.?o\.?b\.?|born|date of birth)(?![a-z])/i;

const NAME = /^\p{Lu}[\p{L}'’-]{2,}$/u;

/** A gentle warning about a label of a role; null where it looks like a role. */
export function warnAboutLabel(label: string): string | null {
  const text = label.trim();
  if (text === '') return null;
  if (MANY_DIGITS.test(text)) return 'This looks like a number of a person. A role is enough.';
  const isNameLike = wordsOf(text).some(
    (word) =>
      TITLES.has(word.toLowerCase()) || (NAME.test(word) && !ROLE_WORDS.has(word.toLowerCase())),
  );
  return isNameLike ? 'This looks like a name. A role such as “surgeon A” is enough.' : null;
}

/** A gentle warning about free text: a reason, a note; null where nothing in it looks like a person. */
export function warnAboutText(text: string): string | null {
  if (DATE_OF_BIRTH.test(text))
    return 'This looks like a date of birth. Nothing about the patient belongs here.';
  if (HOSPITAL_NUMBER.test(text))
    return 'This looks like a number of a person. Nothing about the patient belongs here.';
  return hasName(text) ? 'This looks like a name. Say the role instead.' : null;
}

/** A title before a name, two names in a row, or a capital where a sentence does not begin. */
function hasName(text: string): boolean {
  return text.split(/[.!?:;]\s+|\n/).some((sentence) => {
    const words = wordsOf(sentence);
    return words.some((word, index) => {
      const isAfterTitle = TITLES.has((words[index - 1] ?? '').toLowerCase());
      const isName = NAME.test(word) && !ROLE_WORDS.has(word.toLowerCase());
      if (isAfterTitle) return /^\p{Lu}/u.test(word);
      return isName && (index > 0 || NAME.test(words[1] ?? ''));
    });
  });
}

function wordsOf(text: string): readonly string[] {
  return text.split(/[\s,.]+/).filter((word) => word !== '');
}
