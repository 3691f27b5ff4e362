/**
 * Weights of the score (score.ts), for each set of listeners that knew the phrase: log-odds
 * that it is what was said. `npm run bench -- calibration --fit` makes and prints them, on
 * voices and people that neither trained the network nor set a limit; docs/voice.md says
 * which, and how right the scores are on others.
 */

/** What speaks for a phrase: the more of it, the surer. */
export interface Features {
  readonly networkNearness?: number;
  readonly networkGap?: number;
  readonly cardNearness?: number;
  readonly cardGap?: number;
  readonly textGap?: number;
  readonly headGap?: number;
  /** 1 where the grammar names the phrase too. */
  readonly isNamed?: number;
  /** 1 where it names no other. */
  readonly isUncontested?: number;
  readonly margin?: number;
}

/** Which listeners knew the phrase; the key of their weights. */
export type KnownBy =
  | 'grammar'
  | 'network'
  | 'card'
  | 'text'
  | 'network, grammar'
  | 'network, card'
  | 'card, grammar'
  | 'network, card, grammar'
  | 'network, grammar, text'
  | 'network, card, grammar, text';

/**
 * Beyond these a feature says no more; below 0 nothing is told apart. Distances and gaps of
 * the network are natural logs, of a card as in phrase-distance.ts, margins log-likelihood a frame.
 */
export const MOST = { networkGap: 30, cardGap: 0.3, textGap: 10, headGap: 20, margin: 5 } as const;
export const LEAST = { networkDistance: 0, margin: -15 } as const;

export type Weights = { readonly bias: number } & Features;

export const CALIBRATION: Readonly<Record<KnownBy, Weights>> = {
  // 554 phrases, 232 of them wrong.
  grammar: { bias: 1.63, margin: 0.2777 },
  // 367 phrases, 96 of them wrong.
  network: { bias: 0.5026, networkNearness: 0.1699, networkGap: 0.1762 },
  // 183 phrases, 39 of them wrong.
  card: { bias: 15.18, cardNearness: 25.67, cardGap: 20.63 },
  // 343 phrases, 145 of them wrong: it is asked only where something is not clear.
  text: { bias: 0.1347, textGap: 0.03787, headGap: 0 },
  // 502 phrases, 96 of them wrong.
  'network, grammar': { bias: -0.5612, networkNearness: 0.1987, networkGap: 0.1647, isNamed: 0.008047, isUncontested: 2.619 },
  // 196 phrases, 52 of them wrong.
  'network, card': { bias: 10.89, networkNearness: 0.1244, networkGap: 0, cardNearness: 15.42, cardGap: 16.79 },
  // 175 phrases, 37 of them wrong.
  'card, grammar': { bias: 16, cardNearness: 27.91, cardGap: 18.15, isNamed: 1.317, isUncontested: 0 },
  // 296 phrases, 52 of them wrong.
  'network, card, grammar': { bias: 10.56, networkNearness: 0.1381, networkGap: 0, cardNearness: 15.8, cardGap: 17.57, isNamed: 1.452, isUncontested: 0.02123 },
  // 230 phrases, 81 of them wrong.
  'network, grammar, text': { bias: 0.4338, networkNearness: 0.1287, networkGap: 0.08145, textGap: 0.3587, headGap: 0.0832, isNamed: 0, isUncontested: 0.9993 },
  // 96 phrases, 51 of them wrong.
  'network, card, grammar, text': { bias: 7.031, networkNearness: 0.0254, networkGap: 0.03638, cardNearness: 11.58, cardGap: 6.757, textGap: 0.4183, headGap: 0.1184, isNamed: 0.3759, isUncontested: 0.2339 },
}; // prettier-ignore
