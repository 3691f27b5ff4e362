/** What the grammar listener thinks of an utterance, and what it takes where it decides alone. Pure. */
import { DECISION_LIMITS } from '../decision/decision-limits';

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

/** The phrase that it is sure enough of to decide alone; null where there is none. */
export function takenByGrammar({ words, margin, unexplainedMs }: GrammarOpinion): string | null {
  const { grammarMargin, unexplainedMs: mostUnexplainedMs } = DECISION_LIMITS;
  const isTaken = words !== null && unexplainedMs <= mostUnexplainedMs && margin() >= grammarMargin;
  return isTaken ? words : null;
}
