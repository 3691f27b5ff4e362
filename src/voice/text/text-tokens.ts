/**
 * Text to the numbers that the text model knows it by: the published Llama vocabulary,
 * pieces of words in byte-pair order. Its table is read only where a text model is opened.
 */

/** Stands before every text. */
export const BEGIN = 1;
/** Stands after every text. */
const END = 2;

/** The numbers of a text, its end included, its beginning not. */
export type ToTokens = (text: string) => readonly number[];

/** Reads the vocabulary. */
export async function loadTokens(): Promise<ToTokens> {
  const { default: vocabulary } = await import('llama-tokenizer-js');
  return (text) => [...vocabulary.encode(text, false), END];
}
