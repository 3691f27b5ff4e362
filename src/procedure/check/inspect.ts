/**
 * The whole check of a file: its form and meaning, then a walk through its states and a
 * comparison of its phrases. Bounded in states, and by `isTimeUp` where the caller has
 * a clock; what was not looked at is said.
 */
import { compileProcedure } from '../compile';
import type { CompiledProcedure } from '../compile';
import { explore } from '../explore';
import type { Pronounce } from '../sound-distance';
import { found } from './finding';
import type { Finding } from './finding';
import { readProcedure } from './check-procedure';
import { checkNumbers, checkPhrases } from './phrases';
import { checkSpoken, checkWords, USUAL_ADDRESS_PHRASE } from './spoken';
import { checkWalk } from './walk';

export interface InspectOptions {
  /** How the listener pronounces a word; nothing is compared by sound without it. */
  readonly pronounce?: Pronounce;
  /** What the site says first, where it is not the usual phrase. */
  readonly addressPhrase?: string;
  /** After how many states the walk is cut short. */
  readonly most?: number;
  /** Asked before each state; the walk ends where it says yes. */
  readonly isTimeUp?: () => boolean;
}

export interface Inspection {
  /** Null where the file can't be compiled. */
  readonly compiled: CompiledProcedure | null;
  /** Whether nothing fatal was found. */
  readonly canRun: boolean;
  readonly findings: readonly Finding[];
  /** How many states were walked through. */
  readonly states: number;
  /** Whether those were all. */
  readonly isComplete: boolean;
}

/** How many states are walked where nothing is said: seconds on a small computer. */
const MOST_STATES = 20_000;

/** Checks unknown data as far as it can be checked. Never throws. */
export function inspectProcedure(
  data: unknown,
  { pronounce, addressPhrase, most = MOST_STATES, isTimeUp = () => false }: InspectOptions = {},
): Inspection {
  const read = readProcedure(data);
  const { procedure } = read;
  if (!procedure)
    return {
      compiled: null,
      canRun: false,
      findings: read.findings,
      states: 0,
      isComplete: false,
    };
  const compiled = compileProcedure(procedure);
  const expanded = {
    steps: [...compiled.steps.values()],
    captures: [...compiled.captures.values()],
    holdPoints: [...compiled.holdPoints.values()],
    alternatives: [...compiled.alternatives.values()],
  };
  let isCut = false;
  const explored = explore(compiled, { most, stopAt: () => (isCut = isTimeUp()) });
  const walk = { ...explored, isComplete: explored.isComplete && !isCut };
  const states = walk.states.size;
  const findings = [
    ...read.findings,
    ...(addressPhrase && addressPhrase !== USUAL_ADDRESS_PHRASE
      ? checkSpoken(procedure, expanded, addressPhrase)
      : []),
    ...(pronounce ? checkWords(procedure, expanded, pronounce) : []),
    ...(walk.isComplete
      ? []
      : [found('walk-cut-short', 'states', 'every state looked at', `${states}, then cut short`)]),
    ...checkWalk(compiled, walk),
    ...(pronounce ? checkNumbers(compiled, pronounce) : []),
    ...checkPhrases(compiled, walk, pronounce ?? null),
  ];
  const canRun = !findings.some(({ isFatal }) => isFatal);
  return { compiled, canRun, findings, states, isComplete: walk.isComplete };
}
