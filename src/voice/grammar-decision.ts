/** What the grammar listener thinks of an utterance, and its decision where it decides alone. Pure. */
import type { HeardPhrase } from '../domain';
import { DECISION_LIMITS } from './decision-limits';

/** Over which difference of margins does the score go from doubtful to sure? */
const MARGIN_SCALE = 3;

/** What the grammar made of an utterance, before anything is decided. */
export interface GrammarOpinion {
  /** The likeliest whole phrase; null where there is none or its digits were squeezed in. */
  readonly words: string | null;
  /** By how much it beats free sounds, per frame; half of the grammar's work, so asked only where it matters. */
  readonly margin: () => number;
  /** Loud sound that its words leave over, in milliseconds. */
  readonly unexplainedMs: number;
  readonly speechMs: number;
}

/** The grammar's own decision, where it has to decide alone. */
export function decideByGrammar({
  words,
  margin: marginOf,
  unexplainedMs,
  speechMs,
}: GrammarOpinion): Pick<HeardPhrase, 'words' | 'score' | 'speechMs'> {
  const { grammarMargin, unexplainedMs: mostUnexplainedMs } = DECISION_LIMITS;
  if (words === null || unexplainedMs > mostUnexplainedMs)
    return { words: null, score: 0, speechMs };
  const margin = marginOf();
  const score = 1 / (1 + Math.exp((grammarMargin - margin) / MARGIN_SCALE));
  return { words: margin >= grammarMargin ? words : null, score, speechMs };
}
