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
export type AlternativeId = Branded<'AlternativeId'>;
export type TimerId = Branded<'TimerId'>;
export type TallyId = Branded<'TallyId'>;
export type CountId = Branded<'CountId'>;
export type CountItemId = Branded<'CountItemId'>;
export type InstrumentId = Branded<'InstrumentId'>;
export type RoleId = Branded<'RoleId'>;
export type CheckItemId = Branded<'CheckItemId'>;
export type ConstraintId = Branded<'ConstraintId'>;

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
  | LoopId
  | AlternativeId
  | TimerId
  | TallyId
  | CountId
  | CountItemId
  | InstrumentId
  | RoleId
  | CheckItemId
  | ConstraintId;

/** Brands a string that is known to be an id of the kind asked for. */
export function asId<Id extends AnyId>(text: string): Id {
  return text as Id;
}
