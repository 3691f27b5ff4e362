/**
 * One running case: takes orders, lets the machine decide, appends entries, and
 * publishes the view. Owns the order of things; sees ports, never adapters.
 */
export { isStillTrue } from './announced/announced-staleness';
export { listSegments } from './announced/announcements';
export { implantListToCsv, implantListToJson } from './implants/implant-list';
export { makeCaseId } from './case-host';
export { CaseLog } from './kept/case-log';
export type { CaseSettings } from './kept/case-log';
export { findLateCues } from './announced/late-cues';
export { CaseSession } from './case-session';
export type { SessionPorts } from './case-session';
export { makeDemoCases } from './demo';
export { findFaults, findRemarks, giveNewId, procedureToText } from './procedure-report';
export type { Finding, Pronounce } from './procedure-report';
export { sketchProcedure } from './procedure-sketch';
export type {
  ProcedureSketch,
  SketchAlternative,
  SketchGroup,
  SketchHold,
  SketchPhase,
  SketchStep,
  SketchTrack,
} from './procedure-sketch';
export * from './rehearsal';
export type { CaseUpdate, OrderOutcome, RunningCase } from './running-case';
export { listSettledCaptures } from './settled-captures';
export { SharedHost } from './shared-host';
export type { WindowPorts, WindowReply, WindowRequest } from './shared-host';
export {
  describeBuiltIn,
  describeImported,
  describeProcedure,
  describeRecorded,
  listCaptures,
  listPhrasesOfCard,
  listProcedures,
  outlineOf,
} from './setup';
export type { CaptureLine, PlanField, ProcedureCard } from './setup';
export type * from './view/view';
export type * from './view/view-around';
export type * from './view/view-implants';
