/** The small pieces that every part of the procedure format is made of: ids, texts, spoken words. */
import * as v from 'valibot';

/** An id: lower-case words joined by hyphens; `{item}` inside a repeat. */
export const Id = v.pipe(
  v.string(),
  v.regex(/^[a-z0-9]+(?:-(?:[a-z0-9]+|\{item\}))*$/, 'expected lower-case words joined by hyphens'),
  v.maxLength(48),
  // Ids are keys of plain objects.
  v.check((id) => !(id in {}), 'a word that means something to the machine itself can’t be an id'),
);

/** A text that a screen shows; the length is what its place on the wall can hold. */
export const Text = (max: number) => v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(max));

/** Spoken words: lower case, letters, apostrophes and spaces. */
export const Spoken = v.pipe(
  v.string(),
  v.regex(/^(?:[a-z']+|\{item\})(?: (?:[a-z']+|\{item\}))*$/, 'expected lower-case words'),
  v.maxLength(48),
);

/** A length of time in minutes, up to a day. */
export const Minutes = v.pipe(v.number(), v.finite(), v.minValue(0.1), v.maxValue(1440));

/** A whole number within limits. */
export const Whole = (least: number, most: number) =>
  v.pipe(v.number(), v.integer(), v.minValue(least), v.maxValue(most));

/** A text with what it is for; the documentation table shows it. */
export const described = <const Schema extends v.GenericSchema>(schema: Schema, text: string) =>
  v.pipe(schema, v.description(text));
