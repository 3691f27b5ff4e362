/**
 * The address phrases that were measured (`npm run bench -- address`), and which of them
 * a team may choose. Measured by the grammar alone, before the phrase network heard beside
 * it. The network knows every phrase that the dictionary can pronounce, so all of these are
 * heard by both now; with both only the default was measured again (docs/voice.md).
 */
import { DEFAULT_ADDRESS_PHRASE } from './address-phrase';

/** One candidate, measured with five commands. */
export interface MeasuredAddress {
  readonly address: string;
  /** Commands taken, of 35 by seven synthetic voices that nothing was trained on. */
  readonly taken: number;
  /** Commands taken for another one. */
  readonly wrong: number;
  /** Activations by 30 minutes of human talk that was meant for nobody. */
  readonly falseActivations: number;
  /** Commands of twelve taken by both listeners, of 96 by eight held-out voices; where it was measured. */
  readonly withBoth?: { readonly taken: number; readonly said: number };
  /** The stretch of theatre talk that sounds nearest, and which part of its sounds differs. */
  readonly nearest: { readonly words: string; readonly part: number };
}

/** How many commands were said of each candidate. */
export const SAID_COMMANDS = 35;

/** What a candidate must reach to be offered: no fewer commands and no more activations than the default's. */
export const ADDRESS_LIMITS = {
  leastTaken: 25,
  mostWrong: 0,
  mostFalseActivations: 1,
} as const;

const near = (words: string, part: number) => ({ words, part });

export const MEASURED_ADDRESSES: readonly MeasuredAddress[] = [
  {
    address: 'theatre wall',
    taken: 25,
    wrong: 0,
    falseActivations: 1,
    nearest: near('theatre all', 0.13),
    withBoth: { taken: 96, said: 96 },
  },
  {
    address: 'hello wall',
    taken: 25,
    wrong: 0,
    falseActivations: 1,
    nearest: near('hello what', 0.29),
  },
  {
    address: 'attention wall',
    taken: 23,
    wrong: 0,
    falseActivations: 0,
    nearest: near('attention', 0.3),
  },
  {
    address: 'listen wall',
    taken: 25,
    wrong: 0,
    falseActivations: 0,
    nearest: near('listen while', 0.13),
  },
  {
    address: 'dear wall',
    taken: 25,
    wrong: 0,
    falseActivations: 1,
    nearest: near('the wall', 0.5),
  },
  {
    address: 'wall please',
    taken: 27,
    wrong: 0,
    falseActivations: 0,
    nearest: near('the wall please', 0.22),
  },
  {
    address: 'team wall',
    taken: 25,
    wrong: 0,
    falseActivations: 3,
    nearest: near('team will', 0.17),
  },
  {
    address: 'theatre record',
    taken: 24,
    wrong: 0,
    falseActivations: 1,
    nearest: near('the theatre record', 0.15),
  },
];

/** Whether a team may choose it. */
export function isOfferedAddress(measured: MeasuredAddress): boolean {
  const { taken, wrong, falseActivations } = measured;
  return (
    taken >= ADDRESS_LIMITS.leastTaken &&
    wrong <= ADDRESS_LIMITS.mostWrong &&
    falseActivations <= ADDRESS_LIMITS.mostFalseActivations
  );
}

/** The candidates that passed, the default first, then those that are missed least. */
export function listOfferedAddresses(): readonly MeasuredAddress[] {
  const rank = ({ address, taken }: MeasuredAddress): number =>
    address === DEFAULT_ADDRESS_PHRASE ? -Infinity : -taken;
  return MEASURED_ADDRESSES.filter(isOfferedAddress).toSorted((a, b) => rank(a) - rank(b));
}
