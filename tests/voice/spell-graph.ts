/** Every way through a graph of words, with its probability. */
import type { WordGraph } from '../../src/voice/grammar/word-graph';

export function spellAll(graph: WordGraph | null): { words: string; probability: number }[] {
  if (graph === null) return [];
  const spell = (state: number, words: readonly string[], probability: number): Spelt[] => [
    ...(state === 1 ? [{ words: words.join(' '), probability }] : []),
    ...graph.arcs
      .filter(({ from }) => from === state)
      .flatMap((arc) =>
        spell(
          arc.to,
          arc.word === null ? words : [...words, arc.word],
          probability * arc.probability,
        ),
      ),
  ];
  return spell(0, [], 1);
}

type Spelt = ReturnType<typeof spellAll>[number];
