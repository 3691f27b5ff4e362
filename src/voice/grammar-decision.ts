/** What the grammar listener thinks of an utterance, and its decision where it decides alone. Pure. */
import type { HeardPhrase } from '../domain';

/** By how much must a phrase beat free sounds, per frame? Measured on human talk; docs/voice.md. */
const LEAST_MARGIN = -2;
/** Over which difference of margins does the score go from doubtful to sure? */
const MARGIN_SCALE = 3;
/** How much loud sound may the words leave over, in milliseconds? A breath, a footstep. */
const MOST_UNEXPLAINED_MS = 250;

/** What the grammar made of an utterance, before anything is decided. */
export interface GrammarOpinion {
  /** The likeliest whole phrase; null where there is none or its digits were squeezed in. */
  readonly words: string | null;
  /** By how much it beats free sounds, per frame. */
  readonly margin: number;
  /** Loud sound that its words leave over, in milliseconds. */
  readonly unexplainedMs: number;
  readonly speechMs: number;
}

/** The grammar's own decision, where it has to decide alone. */
export function decideByGrammar({
  words,
  margin,
  unexplainedMs,
  speechMs,
}: GrammarOpinion): Pick<HeardPhrase, 'words' | 'score' | 'speechMs'> {
  if (words === null || unexplainedMs > MOST_UNEXPLAINED_MS)
    return { words: null, score: 0, speechMs };
  const score = 1 / (1 + Math.exp((LEAST_MARGIN - margin) / MARGIN_SCALE));
  return { words: margin >= LEAST_MARGIN ? words : null, score, speechMs };
}
