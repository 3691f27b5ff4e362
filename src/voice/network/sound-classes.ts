/** What the phrase network and the head on the speech model tell apart: words, and phones of the CMU dictionary. */
import type { ReadModelFile } from '../models/model-runs';

/** Names by number, the blank first. */
interface Names {
  readonly words: readonly string[];
  readonly phones: readonly string[];
}

export class SoundClasses {
  readonly #wordIds: ReadonlyMap<string, number>;
  readonly #phoneIds: ReadonlyMap<string, number>;

  private constructor({ words, phones }: Names) {
    this.#wordIds = numbered(words);
    this.#phoneIds = numbered(phones);
  }

  /** Rejects where the file is missing. */
  static async load(read: ReadModelFile): Promise<SoundClasses> {
    const text = new TextDecoder().decode(await read('phrase_network.json'));
    return new SoundClasses(JSON.parse(text) as Names);
  }

  /** Numbers of these words; null where one of them was not trained as a word. */
  wordIds(words: readonly string[]): readonly number[] | null {
    return lookUp(words, this.#wordIds);
  }

  /** Numbers of these phones; null where one is unknown. */
  phoneIds(phones: readonly string[]): readonly number[] | null {
    return lookUp(phones, this.#phoneIds);
  }
}

function numbered(names: readonly string[]): ReadonlyMap<string, number> {
  // Number 0 is the blank; "*" stands for words that are not told apart.
  return new Map(names.map((name, index) => [name, index] as const).slice(1));
}

function lookUp(
  names: readonly string[],
  ids: ReadonlyMap<string, number>,
): readonly number[] | null {
  const found = names.map((name) => ids.get(name));
  return found.some((id) => id === undefined) ? null : (found as number[]);
}
