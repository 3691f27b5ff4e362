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
  // 509 phrases, 236 of them wrong.
  grammar: { bias: 1.408, margin: 0.2652 },
  // 325 phrases, 87 of them wrong.
  network: { bias: 0.6448, networkNearness: 0.1999, networkGap: 0.2041 },
  // 146 phrases, 33 of them wrong.
  card: { bias: 7.656, cardNearness: 12.95, cardGap: 11.45 },
  // 428 phrases, 88 of them wrong.
  'network, grammar': { bias: -0.1406, networkNearness: 0.24, networkGap: 0.1824, isNamed: 0.01781, isUncontested: 2.53 },
  // 160 phrases, 47 of them wrong.
  'network, card': { bias: 6.644, networkNearness: 0.1622, networkGap: 0.04227, cardNearness: 8.424, cardGap: 7.602 },
  // 140 phrases, 32 of them wrong.
  'card, grammar': { bias: 6.99, cardNearness: 12.82, cardGap: 10.48, isNamed: 1.173, isUncontested: 0 },
  // 172 phrases, 53 of them wrong.
  'network, card, grammar': { bias: 5.786, networkNearness: 0.169, networkGap: 0.04273, cardNearness: 8.004, cardGap: 7.337, isNamed: 1.121, isUncontested: 0.1829 },
  // 216 phrases, 71 of them wrong.
  'network, grammar, text': { bias: 0.05423, networkNearness: 0.2205, networkGap: 0.1982, textGap: 0.9233, isNamed: 0, isUncontested: 1.903 },
  // 154 phrases, 45 of them wrong.
  'network, card, grammar, text': { bias: 6.478, networkNearness: 0.2245, networkGap: 0.01327, cardNearness: 6.12, cardGap: 5.583, textGap: 0.7012, isNamed: 0, isUncontested: 0 },
}; // prettier-ignore
