/** Makes the CaseView from the facts of a case. Pure. */
import { cardsEver, cardsNow, faultToOperatorText, languageOfCards } from '../../domain';
import type { Fault } from '../../domain';
import { contextOf, isClosed } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import type { CaseFacts, RefusalFact } from '../case-facts';
import { viewHoldPoint } from './hold-point-view';
import { viewImplants } from './implants-view';
import { makeSurroundings } from '../make-surroundings';
import { viewReadBack } from './read-back-view';
import { viewSizes } from './sizes-view';
import { makeTrackView } from './track-view';
import type { CaseView, RefusalView } from './view';
import { viewWanted } from './wanted-view';

/** What the view needs beside the record. */
export interface ViewExtras {
  readonly caseId: CaseView['caseId'];
  readonly addressPhrase: string;
  readonly lapseMs: number;
  readonly unsavedCount: number;
  readonly storageFault: Fault | null;
}

/** Makes the view; the case must have been opened. */
export function makeView(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  extras: ViewExtras,
): CaseView {
  const { setup, openedAt, state } = facts;
  if (!setup || !openedAt) throw new Error('The first entry of a case must be "case.opened"');
  const context = contextOf(state);
  const tracks = compiled.tracks.map((track) => makeTrackView(compiled, facts, track));
  const holdPoints = [...compiled.holdPoints.values()].map((point) =>
    viewHoldPoint(compiled, facts, point),
  );
  const isComplete = tracks.every(({ state: where }) => where === 'done');
  const asked = holdPoints.find(({ id }) => id === context.overrideAsked?.holdPoint);
  return {
    caseId: extras.caseId,
    mode: setup.mode,
    title: compiled.procedure.title,
    short: compiled.procedure.short,
    note: compiled.procedure.note,
    side: setup.side,
    roles: setup.roles,
    voiceCards: cardsNow(facts.cards),
    everCards: cardsEver(facts.cards),
    spokenLanguage: languageOfCards(facts.cards),
    status: isClosed(state) ? 'closed' : isComplete ? 'complete' : 'running',
    outcome: facts.closed?.outcome ?? null,
    openedAt,
    closedAt: facts.closed?.at ?? null,
    tracks,
    ...makeSurroundings(compiled, facts),
    wanted: viewWanted(compiled, facts),
    readBack: viewReadBack(compiled, facts, extras.lapseMs),
    sizes: viewSizes(compiled, facts),
    implants: viewImplants(compiled, facts),
    holdPoints,
    overrideAsked: asked ? { ...asked, why: facts.overrideWhy } : null,
    heldAttempt: facts.heldAttempt && viewRefusal(facts.heldAttempt),
    refusals: facts.refusals.map(viewRefusal),
    lastOrder: viewLastOrder(facts),
    clockHold: facts.clockHold,
    holdReasons: compiled.procedure.holdReasons,
    milestones: facts.milestones,
    isMuted: context.isMuted,
    isQuiet: tracks.some(
      ({ state: where, phase }) => where === 'doing' && (phase?.isQuiet ?? false),
    ),
    outline: compiled.outline,
    addressPhrase: extras.addressPhrase,
    entryCount: facts.count,
    unsavedCount: extras.unsavedCount,
    storageFault: extras.storageFault,
  };
}

function viewRefusal({ seq, at, fault, holdPoint, conditions }: RefusalFact): RefusalView {
  return { seq, at, code: fault.code, text: faultToOperatorText(fault), holdPoint, conditions };
}

function viewLastOrder({ lastHeard, lastOutcome, refusals }: CaseFacts): CaseView['lastOrder'] {
  if (!lastHeard || !lastOutcome) return null;
  const refusal = refusals.findLast(({ seq }) => seq > lastHeard.seq);
  return {
    ...lastHeard,
    outcome: lastOutcome,
    message: lastOutcome !== 'done' && refusal ? faultToOperatorText(refusal.fault) : null,
  };
}
