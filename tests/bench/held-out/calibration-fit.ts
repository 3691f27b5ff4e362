/**
 * Which phrase each way of listening gives from one utterance, what speaks for it, and the
 * weights that fit the outcomes best.
 */
import type { Evidence, Features, KnownBy, Weights } from '../../../src/voice';
import {
  askedOfText,
  decideByNetwork,
  decideFromAll,
  describeEvidence,
  likeliestByText,
  NO_TEXT,
} from '../../../src/voice';
import { isSaid, toOpinions } from './calibration-samples';
import type { Sample } from './calibration-samples';
import { fitRising } from './logistic';

/** The ways in which the product, or `npm run listen`, listens. */
export const WAYS = [
  'both',
  'both, no text',
  'both, no network',
  'grammar',
  'network',
  'examples',
  'text',
] as const;
export type Way = (typeof WAYS)[number];

/** A phrase that was given or asked about, and what spoke for it. */
export interface Given {
  readonly sample: Sample;
  readonly words: string;
  readonly isTaken: boolean;
  readonly isRight: boolean;
  readonly evidence: Evidence;
  readonly knownBy: KnownBy;
  readonly features: Features;
}

/** Null where nothing is given, or the way needs a card and there is none. */
export function giveBy(way: Way, sample: Sample): Given | null {
  const chosen = chooseBy(way, sample);
  const words = chosen?.words ?? null;
  if (!chosen || words === null) return null;
  const { isTaken, evidence } = chosen;
  const { knownBy, features } = describeEvidence(words, evidence, sample.vocabulary);
  if (knownBy === null) return null;
  const isRight = isSaid(words, sample);
  return { sample, words, isTaken, isRight, evidence, knownBy, features };
}

function chooseBy(
  way: Way,
  sample: Sample,
): {
  readonly words: string | null;
  readonly isTaken: boolean;
  readonly evidence: Evidence;
} | null {
  const opinions = toOpinions(sample);
  const { grammar, network, ranked, text, head } = opinions;
  const none = { network: [], ranked: [], ...NO_TEXT };
  // What the grammar finds likeliest, taken or not: `npm run listen` shows it.
  if (way === 'grammar')
    return { words: grammar.words, isTaken: true, evidence: { grammar, ...none } };
  if (way === 'text') {
    const isAsked = askedOfText(opinions, sample.vocabulary).length > 1;
    const evidence = {
      grammar: null,
      network: [],
      ranked: [],
      ...(isAsked ? { text, head } : NO_TEXT),
    };
    return { words: likeliestByText(evidence), isTaken: true, evidence };
  }
  const needsCard = way === 'both, no network' || way === 'examples';
  if (needsCard && ranked.length === 0) return null;
  const evidence = {
    both: { grammar, network, ranked, text, head },
    'both, no text': { grammar, network, ranked, ...NO_TEXT },
    'both, no network': { ...none, grammar, ranked },
    network: { grammar: null, network, ranked, ...NO_TEXT },
    examples: { ...none, grammar: null, ranked },
  }[way];
  const { words, candidates } = evidence.grammar
    ? decideFromAll({ ...opinions, ...evidence, grammar }, sample.vocabulary)
    : decideByNetwork({ ...opinions, ...evidence }, sample.vocabulary);
  return { words: words ?? candidates?.[0] ?? null, isTaken: words !== null, evidence };
}

/** What a weight is pulled towards 0 with: as one observation; without it what is never wrong has no weight. */
const PRECISION = 0.5;

export interface FittedWeights {
  readonly count: number;
  readonly wrong: number;
  readonly weights: Weights;
  readonly standardErrors: Weights;
}

/** One fit for each set of listeners that knew a phrase, of everything that was given. */
export function fitWeights(
  samples: readonly Sample[],
): Readonly<Partial<Record<KnownBy, FittedWeights>>> {
  const given = WAYS.flatMap((way) => samples.flatMap((sample) => giveBy(way, sample) ?? []));
  const kinds = [...new Set(given.map(({ knownBy }) => knownBy))].sort();
  return Object.fromEntries(
    kinds.map((kind) => [kind, fitOne(given.filter(({ knownBy }) => knownBy === kind))]),
  );
}

function fitOne(given: readonly Given[]): FittedWeights {
  const names = Object.keys(given[0]?.features ?? {}) as (keyof Features)[];
  const rows = given.map(({ features }) => names.map((name) => features[name] ?? 0));
  // In terms of how much each differs, so that all are pulled alike.
  const spreads = names.map((_, index) => spreadOf(rows.map((row) => row[index] ?? 0)));
  const fit = fitRising(
    rows.map((row) => row.map((x, index) => x / (spreads[index] ?? 1))),
    given.map(({ isRight }) => isRight),
    PRECISION,
  );
  const unscale = ([bias = 0, ...others]: readonly number[]): readonly number[] => [
    bias,
    ...others.map((x, index) => x / (spreads[index] ?? 1)),
  ];
  const [weights, standardErrors] = [unscale(fit.weights), unscale(fit.standardErrors)];
  const toNamed = ([bias = 0, ...others]: readonly number[]): Weights => ({
    bias: round(bias),
    ...Object.fromEntries(names.map((name, index) => [name, round(others[index] ?? 0)])),
  });
  return {
    count: given.length,
    wrong: given.filter(({ isRight }) => !isRight).length,
    weights: toNamed(weights),
    standardErrors: toNamed(standardErrors),
  };
}

/** Standard deviation; 1 where nothing differs. */
function spreadOf(values: readonly number[]): number {
  const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
  const variance = values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length;
  return variance > 0 ? Math.sqrt(variance) : 1;
}

function round(x: number): number {
  return Number(x.toPrecision(4));
}
