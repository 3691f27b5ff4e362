/**
 * How alike two phrases sound: edits between their phonemes (Levenshtein 1966), with
 * the pronunciations of the dictionary that the listener itself uses.
 */

/** The phonemes of a word (ARPAbet, without stress); null where the dictionary has none. */
export type Pronounce = (word: string) => readonly string[] | null;

export interface SoundDistance {
  /** Phonemes to insert, delete or change. */
  readonly edits: number;
  /** The same as a part of the longer phrase, 0 to 1. */
  readonly part: number;
}

/** Distance of two phrases. Words without a pronunciation count letter by letter. */
export function distanceBetween(a: string, b: string, pronounce: Pronounce): SoundDistance {
  const soundsOf = (phrase: string) =>
    phrase.split(' ').flatMap((word) => pronounce(word) ?? [...word]);
  const [first, second] = [soundsOf(a), soundsOf(b)];
  const edits = countEdits(first, second);
  return { edits, part: edits / Math.max(1, first.length, second.length) };
}

function countEdits(a: readonly string[], b: readonly string[]): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (const [i, sound] of a.entries()) {
    const next = [i + 1];
    for (const [j, other] of b.entries()) {
      const change = (row[j] ?? 0) + (sound === other ? 0 : 1);
      next.push(Math.min(change, (row[j + 1] ?? 0) + 1, (next[j] ?? 0) + 1));
    }
    row = next;
  }
  return row[b.length] ?? 0;
}
