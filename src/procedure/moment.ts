/** The moment at which an order is decided, and how a refusal is made. */
import { err, fault } from '../domain';
import type {
  CaptureValue, ConditionState, Fact, Fault, HoldPointId, OrderType, Result, Source,
} from '../domain'; // prettier-ignore
import type { CompiledProcedure } from './compile';
import { describeConditions } from './conditions';
import type { CaseContext } from './context';
import type { HoldPoint, Step } from './expanded';
import type { CaseState } from './state';
import { valueToText } from './values-of';

/** Why an order was not carried out, and which hold point stood in the way. */
export interface Refusal {
  readonly fault: Fault;
  readonly holdPoint: HoldPointId | null;
  readonly conditions: readonly ConditionState[];
}

/** The last order that moved the case, and where the case stood before it. */
export interface LastMove {
  readonly before: CaseState;
  readonly order: OrderType;
  /** Its first entry. */
  readonly since: number;
}

export interface Moment {
  readonly compiled: CompiledProcedure;
  readonly state: CaseState;
  readonly context: CaseContext;
  readonly source: Source;
  readonly lastMove: LastMove | null;
}

export type Facts = Result<readonly Fact[], Refusal>;

/** Refuses with a code of the catalogue. */
export function refuse(
  code: Fault['code'],
  params: Fault['params'] = {},
  holdPoint: HoldPointId | null = null,
  conditions: readonly ConditionState[] = [],
): { readonly ok: false; readonly error: Refusal } {
  return err({ fault: fault(code, params), holdPoint, conditions });
}

/** Refuses because of a hold point, saying what is missing. */
export function refuseHeld(
  { compiled, context }: Moment,
  holdPoint: HoldPoint,
  subject: string,
  value: CaptureValue | null = null,
): Facts {
  const conditions = describeConditions(compiled, holdPoint, context, value);
  const missing = conditions
    .filter(({ isMet }) => !isMet)
    .map(({ text }) => text)
    .join(', ');
  const params = { holdPoint: holdPoint.id, title: subject, subject, missing };
  return refuse('hold-point-closed', params, holdPoint.id, conditions);
}

/** Refuses because a read-back waits for its answer. */
export function refuseReadBackOpen({ compiled, context }: Moment): Facts {
  const { offered } = context;
  const capture = offered && compiled.captures.get(offered.capture);
  if (!capture) return refuse('no-read-back');
  const params = {
    capture: capture.id,
    label: capture.label,
    value: valueToText(capture, offered.value),
  };
  return refuse('read-back-open', params);
}

/** A read-back is never left hanging over a move: it is withdrawn, visibly. */
export function dropReadBack(
  { compiled, context }: Moment,
  track: string | null = null,
): readonly Fact[] {
  const { offered } = context;
  const isOfTrack = (step: Step) => track === null || step.track === track;
  const isTouched = [...compiled.steps.values()].some(
    (step) => isOfTrack(step) && step.captures.some((capture) => capture === offered?.capture),
  );
  return offered && isTouched ? [{ type: 'capture.withdrawn', data: offered }] : [];
}
