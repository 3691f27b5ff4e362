/**
 * Whether packs and confirmed sizes agree, told to the machine as a fact of the wall's: the
 * procedure may hold a step back for it and knows no catalogue. Where there is no catalogue
 * nothing can be compared, so they do not agree, and the hold point is passed at the desk.
 */
import type { Fact } from '../../domain';
import { asksForPacks, carryOut, contextOf, isClosed } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import { isReconciled, reconcile } from '../../sizing';
import type { CaseFacts } from '../case-facts';
import { catalogueOf } from './implants-orders';

/** The fact and all that follows from it; none where the machine knows already, or nothing asks. */
export function comparePacks(compiled: CompiledProcedure, facts: CaseFacts): readonly Fact[] {
  const { state, implants, setup } = facts;
  if (!asksForPacks(compiled) || isClosed(state)) return [];
  const { confirmed, packsAgree } = contextOf(state);
  const catalogue = catalogueOf(compiled, facts);
  const agree =
    catalogue !== null &&
    isReconciled(reconcile(catalogue, implants, confirmed, setup?.side ?? 'right'));
  if (agree === packsAgree) return [];
  return carryOut(compiled, state, [{ type: 'packs.compared', data: { agree } }]).facts.map(
    ({ fact }) => fact,
  );
}
