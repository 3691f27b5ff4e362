/**
 * Branded ids: a StepId can't be passed where a CaptureId is meant.
 * They are plain strings at run time, readable in the record.
 */
declare const brand: unique symbol;
type Branded<Name extends string> = string & { readonly [brand]: Name };

export type CaseId = Branded<'CaseId'>;
export type RunId = Branded<'RunId'>;
export type ProcedureId = Branded<'ProcedureId'>;
export type TrackId = Branded<'TrackId'>;
export type PhaseId = Branded<'PhaseId'>;
export type StepId = Branded<'StepId'>;
export type CaptureId = Branded<'CaptureId'>;
export type HoldPointId = Branded<'HoldPointId'>;
export type GroupId = Branded<'GroupId'>;
export type LoopId = Branded<'LoopId'>;

type AnyId =
  | CaseId
  | RunId
  | ProcedureId
  | TrackId
  | PhaseId
  | StepId
  | CaptureId
  | HoldPointId
  | GroupId
  | LoopId;

/** Brands a string that is known to be an id of the kind asked for. */
export function asId<Id extends AnyId>(text: string): Id {
  return text as Id;
}
