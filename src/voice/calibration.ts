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
  // 511 phrases, 237 of them wrong.
  grammar: { bias: 1.388, margin: 0.2612 },
  // 325 phrases, 88 of them wrong.
  network: { bias: 0.5666, networkNearness: 0.1877, networkGap: 0.1898 },
  // 146 phrases, 33 of them wrong.
  card: { bias: 13.42, cardNearness: 22.98, cardGap: 22.42 },
  // 362 phrases, 190 of them wrong: it is asked only where something is not clear.
  text: { bias: -0.5756, textGap: 0.1152, headGap: 0.01255 },
  // 432 phrases, 88 of them wrong.
  'network, grammar': { bias: -0.4487, networkNearness: 0.216, networkGap: 0.1736, isNamed: 0.1825, isUncontested: 2.461 },
  // 160 phrases, 47 of them wrong.
  'network, card': { bias: 9.588, networkNearness: 0.1383, networkGap: 0, cardNearness: 13.13, cardGap: 19.28 },
  // 140 phrases, 32 of them wrong.
  'card, grammar': { bias: 13.92, cardNearness: 24.58, cardGap: 19.49, isNamed: 1.178, isUncontested: 0 },
  // 182 phrases, 53 of them wrong.
  'network, card, grammar': { bias: 8.46, networkNearness: 0.1351, networkGap: 0, cardNearness: 12.4, cardGap: 18.49, isNamed: 0.9027, isUncontested: 0.2179 },
  // 214 phrases, 76 of them wrong.
  'network, grammar, text': { bias: 0.6977, networkNearness: 0.1439, networkGap: 0.07213, textGap: 0.3736, headGap: 0.08136, isNamed: 0, isUncontested: 1.169 },
  // 143 phrases, 45 of them wrong.
  'network, card, grammar, text': { bias: 6.795, networkNearness: 0.09212, networkGap: 0.06225, cardNearness: 9.471, cardGap: 10.17, textGap: 0.4436, headGap: 0.09681, isNamed: 0.1698, isUncontested: 0.007016 },
}; // prettier-ignore
