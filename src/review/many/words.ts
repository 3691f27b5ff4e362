/** Words and their codes: each word that many cases share is kept once. */
export class Words {
  readonly #codes: Map<string, number>;
  readonly #texts: string[];

  constructor(texts: readonly string[] = []) {
    this.#texts = [...texts];
    this.#codes = new Map(texts.map((text, code) => [text, code]));
  }

  /** All words; a word's place is its code. */
  get texts(): readonly string[] {
    return this.#texts;
  }

  /** The code of a word; a new word gets the next one. */
  codeOf(text: string): number {
    const known = this.#codes.get(text);
    if (known !== undefined) return known;
    this.#codes.set(text, this.#texts.length);
    this.#texts.push(text);
    return this.#texts.length - 1;
  }

  /** The code of a word that may not be there; minus one, which no case has, where it is not. */
  find(text: string): number {
    return this.#codes.get(text) ?? -1;
  }

  /** The word of a code. Throws on a code that was not given out. */
  textOf(code: number): string {
    const text = this.#texts[code];
    if (text === undefined) throw new Error(`words: no word has the code ${code}`);
    return text;
  }
}
