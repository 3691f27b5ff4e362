/** The list of sizes: one line a row, captured and derived values in the order people meet them. */
import { asId, unitToText } from '../../domain';
import type { CaptureId } from '../../domain';
import { contextOf, deriveValue, isFree } from '../../procedure';
import type { Capture, CompiledProcedure } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import { bareText, unitOf } from './value-text';
import { listWanted } from './wanted-view';
import type { SizeRow, SizeState } from './view';

type Part = SizeRow['parts'][number];

/** The rows of the sizes panel. */
export function viewSizes(compiled: CompiledProcedure, facts: CaseFacts): readonly SizeRow[] {
  const wanted = new Set(listWanted(compiled, facts).map(({ capture }) => capture.id));
  const rows = new Map<string, Part[]>();
  const add = (row: string, part: Part) => {
    rows.set(row, [...(rows.get(row) ?? []), part]);
  };
  for (const capture of compiled.captures.values()) {
    if (capture.row !== undefined) add(capture.row, viewPart(capture, facts, wanted));
    for (const spec of compiled.procedure.derived) {
      if (spec.row !== undefined && spec.from === capture.id)
        add(spec.row, viewDerived(spec, facts));
    }
  }
  return [...rows].map(([label, parts]) => ({
    label,
    parts,
    isAsked: parts.some(({ capture }) => capture === facts.asked),
  }));
}

function viewPart(capture: Capture, facts: CaseFacts, wanted: ReadonlySet<CaptureId>): Part {
  const { confirmed, offered, doubtful, changing } = contextOf(facts.state);
  const isOffered = offered?.capture === capture.id;
  const value = isOffered ? offered.value : confirmed[capture.id];
  const planned = facts.setup?.plan[capture.id];
  const state: SizeState = isOffered
    ? 'offered'
    : capture.id in doubtful || capture.id === changing
      ? 'doubtful'
      : value !== undefined
        ? 'settled'
        : wanted.has(capture.id)
          ? 'wanted'
          : 'ahead';
  return {
    capture: capture.id,
    text: value === undefined ? '' : isFree(capture) ? 'Noted' : bareText(capture, value),
    unit: unitOf(capture),
    state,
    differsFromPlan: value !== undefined && planned !== undefined && planned !== value,
  };
}

function viewDerived(
  spec: CompiledProcedure['procedure']['derived'][number],
  { state }: CaseFacts,
): Part {
  const { confirmed, doubtful } = contextOf(state);
  const source = asId<CaptureId>(spec.from);
  const from = confirmed[source];
  const value = from === undefined ? null : deriveValue(spec, from);
  return {
    capture: asId(spec.id),
    text: value === null ? '' : String(value),
    unit: unitToText(spec.unit),
    state: value === null ? 'ahead' : source in doubtful ? 'doubtful' : 'settled',
    differsFromPlan: false,
  };
}
