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
export const MOST = { networkGap: 30, cardGap: 0.3, textGap: 10, margin: 5 } as const;
export const LEAST = { networkDistance: 0, margin: -15 } as const;

export type Weights = { readonly bias: number } & Features;

export const CALIBRATION: Readonly<Record<KnownBy, Weights>> = {
  // 506 phrases, 235 of them wrong.
  grammar: { bias: 1.363, margin: 0.261 },
  // 314 phrases, 84 of them wrong.
  network: { bias: 0.9506, networkNearness: 0.2142, networkGap: 0.1659 },
  // 144 phrases, 31 of them wrong.
  card: { bias: 7.461, cardNearness: 12.57, cardGap: 11.46 },
  // 313 phrases, 84 of them wrong.
  'network, grammar': { bias: 0.1298, networkNearness: 0.254, networkGap: 0.1424, isNamed: 0, isUncontested: 2.689 },
  // 158 phrases, 45 of them wrong.
  'network, card': { bias: 6.543, networkNearness: 0.1584, networkGap: 0.04312, cardNearness: 8.323, cardGap: 7.541 },
  // 138 phrases, 30 of them wrong.
  'card, grammar': { bias: 6.888, cardNearness: 12.56, cardGap: 10.48, isNamed: 1.11, isUncontested: 0 },
  // 161 phrases, 48 of them wrong.
  'network, card, grammar': { bias: 5.732, networkNearness: 0.1656, networkGap: 0.04318, cardNearness: 7.938, cardGap: 7.288, isNamed: 0.8859, isUncontested: 0.369 },
  // Not fitted yet.
  'network, grammar, text': { bias: 0.1298, networkNearness: 0.254, networkGap: 0.1424, isNamed: 0, isUncontested: 2.689, textGap: 0.3 },
  'network, card, grammar, text': { bias: 5.732, networkNearness: 0.1656, networkGap: 0.04318, cardNearness: 7.938, cardGap: 7.288, isNamed: 0.8859, isUncontested: 0.369, textGap: 0.3 },
}; // prettier-ignore
