/**
 * The operation: its file format, the checks, and the machine compiled from it.
 * Pure: facts and orders in, states and facts out. Owns what is legal when, and
 * what may be said at that moment. Knows no clock, no storage, no screen.
 */
export { checkProcedure, FINDING_KINDS, inspectProcedure, USUAL_ADDRESS_PHRASE } from './check';
export type { Finding, FindingKind, Inspection, InspectOptions } from './check';
export { compileProcedure } from './compile';
export type { CompiledProcedure } from './compile';
export { describeConditions, isOpen, listUnmet } from './conditions';
export { listBroken } from './constraints';
export { expectedOf, listOpenCounts } from './counts';
export { listCountsReached } from './decide-around';
export { isReadyToFinish } from './finishing';
export { listRelying } from './reliance';
export type { CaseContext } from './context';
export { decide, decideOpening } from './decide';
export type { LastMove, Refusal } from './moment';
export { listCardPhrases } from './read-aloud';
export type { CardPhrases } from './read-aloud';
export { asksForPacks } from './conditions';
export { carryOut } from './settle';
export type { DecidedFact } from './settle';
export { explore, openingState, stateKey } from './explore';
export { createLiveKey } from './live-key';
export { valuesThatMatter } from './value-classes';
export type { Exploration } from './explore';
export type { Alternative, Capture, HoldPoint, Step } from './expanded';
export { FORMAT_PARTS, ProcedureSchema } from './format';
export type { Procedure } from './format';
export {
  importProcedure,
  listBuiltIn,
  loadBuiltIn,
  loadProcedure,
  loadRecordedProcedure,
} from './load';
export {
  applyFact,
  contextOf,
  initialState,
  isAccepted,
  isClosed,
  positionOf,
  replay,
  restoreState,
  toRestorable,
} from './state';
export type { CaseState, Position } from './state';
export {
  derivedNow,
  deriveValue,
  fillText,
  isFree,
  listLegalValues,
  valueToText,
  valueToWords,
} from './values-of';
export type { LegalValue } from './values-of';
export { listOpenCaptures, listPhrases, wordsForValue } from './vocabulary';
export { subjectOf } from './subject';
export type { Pronounce } from './sound-distance';
