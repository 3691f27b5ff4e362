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
  | 'network, card, grammar';

/**
 * Beyond these a feature says no more; below 0 nothing is told apart. Distances and gaps of
 * the network are natural logs, of a card as in phrase-distance.ts, margins log-likelihood a frame.
 */
export const MOST = { networkGap: 30, cardGap: 0.3, margin: 5 } as const;
export const LEAST = { networkDistance: 0, margin: -15 } as const;

export type Weights = { readonly bias: number } & Features;

export const CALIBRATION: Readonly<Record<KnownBy, Weights>> = {
  grammar: { bias: 0 },
  network: { bias: 0 },
  card: { bias: 0 },
  'network, grammar': { bias: 0 },
  'network, card': { bias: 0 },
  'card, grammar': { bias: 0 },
  'network, card, grammar': { bias: 0 },
};
