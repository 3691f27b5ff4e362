/**
 * What the entries of a case have led to, as text and back: the machine's state and the
 * facts beside it. A cache of the record and nothing else; what the opening entry says is
 * left out, because it is read from there.
 */
import canonicalize from 'canonicalize';
import type { CaseSetup, RestoredState } from '../../domain';
import { isClosed, restoreState, toRestorable } from '../../procedure';
import type { CaseState, CompiledProcedure } from '../../procedure';
import type { CaseFacts } from '../case-facts';

type Stored<T> = { readonly [K in keyof T]: T[K] extends CaseState ? RestoredState : T[K] };
type StoredMoves = Omit<Stored<CaseFacts['moves']>, 'last'> & {
  readonly last: Stored<NonNullable<CaseFacts['moves']['last']>> | null;
};
interface StoredFacts extends Omit<CaseFacts, 'state' | 'setup' | 'moves'> {
  readonly state: RestoredState;
  readonly moves: StoredMoves;
}

/** The facts as text; null where there is nothing to go on with. */
export function factsToText(facts: CaseFacts): string | null {
  if (facts.setup === null || isClosed(facts.state)) return null;
  const { state, setup, moves, ...rest } = facts;
  void setup;
  const stored: StoredFacts = {
    ...rest,
    state: toRestorable(state),
    moves: {
      ...moves,
      before: toRestorable(moves.before),
      last: moves.last && { ...moves.last, before: toRestorable(moves.last.before) },
    },
  };
  return JSON.stringify(stored);
}

/** Facts from text that `factsToText` of the same build made. Throws where it is something else. */
export function textToFacts(
  compiled: CompiledProcedure,
  setup: CaseSetup,
  text: string,
): CaseFacts {
  const { state, moves, ...rest } = JSON.parse(text) as StoredFacts;
  const restore = (stored: RestoredState): CaseState => restoreState(compiled, stored);
  return {
    ...rest,
    setup,
    state: restore(state),
    moves: {
      ...moves,
      before: restore(moves.before),
      last: moves.last && { ...moves.last, before: restore(moves.last.before) },
    },
  };
}

/** Whether two texts of facts say the same, in whatever order. */
export function isSameFacts(one: string | null, other: string | null): boolean {
  if (one === null || other === null) return one === other;
  return one === other || canonicalize(JSON.parse(one)) === canonicalize(JSON.parse(other));
}
