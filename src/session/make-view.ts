/** Makes the CaseView from the facts of a case. Pure. */
import { faultToOperatorText, unitToText } from '../domain';
import type { CaptureId, Fault, TrackId } from '../domain';
import {
  contextOf,
  isClosed,
  listLegalValues,
  positionOf,
  valueToText,
  wordsForValue,
} from '../procedure';
import type { Capture, CompiledProcedure } from '../procedure';
import type { CaseFacts, RefusalFact } from './case-facts';
import { viewHoldPoint } from './hold-point-view';
import { makeTrackView } from './track-view';
import type { CaseView, ReadBackView, RefusalView, SizeRow, SizeState, WantedView } from './view';

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
    status: isClosed(state) ? 'closed' : isComplete ? 'complete' : 'running',
    outcome: facts.closed?.outcome ?? null,
    openedAt,
    closedAt: facts.closed?.at ?? null,
    tracks,
    wanted: viewWanted(compiled, facts),
    readBack: viewReadBack(compiled, facts, extras.lapseMs),
    sizes: viewSizes(compiled, facts),
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

function viewWanted(compiled: CompiledProcedure, facts: CaseFacts): readonly WantedView[] {
  const context = contextOf(facts.state);
  return openCaptures(compiled, facts).flatMap(({ capture, track }): WantedView[] => {
    const planned = plannedOf(facts, capture);
    const options = listLegalValues(capture);
    const example = options[Math.floor(options.length / 2)];
    return [
      {
        capture: capture.id,
        track,
        kind: capture.kind,
        label: capture.label,
        unit: unitOf(capture),
        sayHint: (example && wordsForValue(capture, example.value)[0]) ?? capture.say,
        isConfirmed: capture.id in context.confirmed,
        planned,
        options: options.map(({ value, text }) => ({
          value,
          text: capture.kind === 'number' ? String(value) : text,
          isPlanned: text === planned,
        })),
      },
    ];
  });
}

function viewReadBack(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  lapseMs: number,
): ReadBackView | null {
  const { offered } = contextOf(facts.state);
  const capture = offered && compiled.captures.get(offered.capture);
  if (!capture || !facts.offeredAt) return null;
  const legal = listLegalValues(capture).find(({ value }) => value === offered.value);
  return {
    capture: capture.id,
    kind: capture.kind,
    label: capture.label,
    value: offered.value,
    text:
      capture.kind === 'number' ? String(offered.value) : (legal?.text ?? String(offered.value)),
    unit: unitOf(capture),
    spell:
      capture.kind === 'report'
        ? capture.reads
        : `${capture.label}, ${legal?.words[0] ?? String(offered.value)}`,
    since: facts.offeredAt,
    lapsesAfterMs: lapseMs,
    planned: plannedOf(facts, capture),
  };
}

function viewSizes(compiled: CompiledProcedure, facts: CaseFacts): readonly SizeRow[] {
  const context = contextOf(facts.state);
  const wanted = new Set(openCaptures(compiled, facts).map(({ capture }) => capture.id));
  const rows = new Map<string, SizeRow['parts'][number][]>();
  for (const capture of compiled.captures.values()) {
    if (capture.row === undefined) continue;
    const confirmed = context.confirmed[capture.id];
    const offered = context.offered?.capture === capture.id ? context.offered.value : undefined;
    const value = offered ?? confirmed;
    const state: SizeState =
      offered !== undefined
        ? 'offered'
        : confirmed !== undefined
          ? 'settled'
          : wanted.has(capture.id)
            ? 'wanted'
            : 'ahead';
    const planned = facts.setup?.plan[capture.id];
    const parts = rows.get(capture.row) ?? [];
    parts.push({
      capture: capture.id,
      text:
        value === undefined
          ? ''
          : capture.kind === 'number'
            ? String(value)
            : valueToText(capture, value),
      unit: unitOf(capture),
      state,
      differsFromPlan: value !== undefined && planned !== undefined && planned !== value,
    });
    rows.set(capture.row, parts);
  }
  return [...rows].map(([label, parts]) => ({ label, parts }));
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

function openCaptures(
  compiled: CompiledProcedure,
  { state }: CaseFacts,
): readonly { readonly capture: Capture; readonly track: TrackId }[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    const ids: readonly CaptureId[] = position.kind === 'doing' ? position.step.captures : [];
    return ids.flatMap((id) => {
      const capture = compiled.captures.get(id);
      return capture ? [{ capture, track }] : [];
    });
  });
}

function plannedOf({ setup }: CaseFacts, capture: Capture): string | null {
  const planned = setup?.plan[capture.id];
  return planned === undefined ? null : valueToText(capture, planned);
}

function unitOf(capture: Capture): string {
  return capture.kind === 'number' ? unitToText(capture.unit) : '';
}
