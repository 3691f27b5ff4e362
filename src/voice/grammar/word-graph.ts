/**
 * Phrases to the graph of words that the first listener's decoder walks. Pure. It hears
 * exactly as a plain list of every phrase and every beginning of one would, with far less
 * to walk (docs/voice-tried.md), and that hangs on three things:
 * every sentence is as probable as any other and pays for it with its first word, so that
 * paths are given up at the same moments; a word at which a sentence may end has an arc of
 * its own to the end, so that its last sound is heard as before silence; and states are
 * one only where the same follows the same word, for the decoder models the first sounds
 * after a state by the words before it.
 */

/** One step of a sentence. */
export interface WordArc {
  readonly from: number;
  readonly to: number;
  /** Null where nothing is said. */
  readonly word: string | null;
  /** Above 0, at most 1. */
  readonly probability: number;
}

export interface WordGraph {
  /** How many there are. */
  readonly states: number;
  readonly arcs: readonly WordArc[];
}

/** Where every sentence begins. */
export const START = 0;
/** Where every sentence ends. */
export const END = 1;

/** What may follow some words: the next word, and what may follow then. */
type Continuations = Map<string, Continuations>;

/**
 * The graph of an address phrase, alone or with one of the phrases or a beginning of one.
 * Without an address phrase something must be said. At least one phrase; words in lower case.
 */
export function createWordGraph(
  address: readonly string[],
  phrases: readonly (readonly string[])[],
): WordGraph {
  const tree = growTree(phrases);
  const isAlone = address.length > 0;
  const probability = 1 / (countSentences(tree) + (isAlone ? 1 : 0));
  const builder = new GraphBuilder();
  const addressed = address.reduce((from, word) => builder.addWord(from, word), START);
  if (isAlone) builder.arcs.push({ from: addressed, to: END, word: null, probability });
  builder.addAll(addressed, tree, probability);
  return { states: builder.states, arcs: builder.arcs };
}

function growTree(phrases: readonly (readonly string[])[]): Continuations {
  const root: Continuations = new Map();
  for (const words of phrases) {
    let at = root;
    for (const word of words) {
      const next = at.get(word) ?? new Map();
      at.set(word, next);
      at = next;
    }
  }
  return root;
}

/** One for each word of the tree: beginnings count, and mean nothing. */
function countSentences(tree: Continuations): number {
  return [...tree.values()].reduce((sum, next) => sum + 1 + countSentences(next), 0);
}

class GraphBuilder {
  readonly arcs: WordArc[] = [];
  states = END + 1;
  readonly #stateOf = new Map<string, number>();
  readonly #textOf = new Map<Continuations, string>();

  /** A word that leads to a state of its own; gives that state. */
  addWord(from: number, word: string): number {
    const to = this.#addState();
    this.arcs.push({ from, to, word, probability: 1 });
    return to;
  }

  /** Every word that may follow, as an end and, where more may follow, as a way on. */
  addAll(from: number, tree: Continuations, probability: number): void {
    for (const [word, next] of tree) {
      this.arcs.push({ from, to: END, word, probability });
      if (next.size > 0) this.arcs.push({ from, to: this.#after(word, next), word, probability });
    }
  }

  /** The state after this word with this to follow; what follows is added once. */
  #after(word: string, tree: Continuations): number {
    const key = `${word} ${this.#describe(tree)}`;
    const known = this.#stateOf.get(key);
    if (known !== undefined) return known;
    const state = this.#addState();
    this.#stateOf.set(key, state);
    this.addAll(state, tree, 1);
    return state;
  }

  /** The same text for the same continuations, in whatever order. */
  #describe(tree: Continuations): string {
    const known = this.#textOf.get(tree);
    if (known !== undefined) return known;
    const parts = [...tree].map(([word, next]) => `${word}(${this.#describe(next)})`);
    const text = parts.sort().join(' ');
    this.#textOf.set(tree, text);
    return text;
  }

  #addState(): number {
    const state = this.states;
    this.states += 1;
    return state;
  }
}
