/** One track of the view: its line of steps, where it stands, and its cues. */
import type { TrackId } from '../../domain';
import {
  contextOf,
  describeConditions,
  fillText,
  isOpen,
  isReadyToFinish,
  positionOf,
} from '../../procedure';
import type { CompiledProcedure, Position, Step } from '../../procedure';
import type { CaseFacts } from '../case-facts';
import { viewHoldPoint } from './hold-point-view';
import type { CueView, PhaseView, PrepareView, StepPlace, StepView, TrackView } from './view';

/** How far ahead the cues look: now, next, then. */
const CUES_SHOWN = 3;
/** The longest lead that the format allows. */
const MOST_LEAD = 8;

/** Makes the view of one track. */
export function makeTrackView(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  id: TrackId,
): TrackView {
  const steps = compiled.stepsOfTrack.get(id) ?? [];
  const position = positionOf(compiled, facts.state, id);
  const spec = compiled.procedure.tracks.find((track) => track.id === id);
  const holdPoint =
    position.kind === 'waiting' ? compiled.holdPointOfStep.get(position.step.id) : undefined;
  const isHeld = holdPoint !== undefined && !isOpen(compiled, holdPoint, contextOf(facts.state));
  return {
    id,
    title: spec?.title ?? id,
    steps: steps
      .filter(
        ({ alternative }) => alternative === null || alternative in contextOf(facts.state).chosen,
      )
      .map((step) => viewStep(compiled, facts, position, step)),
    state: position.kind,
    current: viewCurrent(compiled, facts, position, isHeld),
    phase: position.kind === 'done' ? null : viewPhase(compiled, facts, position.step),
    cues: viewCues(compiled, facts, position),
    held: holdPoint && isHeld ? viewHoldPoint(compiled, facts, holdPoint) : null,
    prepare: viewPrepare(compiled, facts, position),
    leaveOut: viewLeaveOut(position),
    ahead: viewAhead(steps, facts, position),
    exit: viewExit(position),
    doneSay: spec?.doneSay ?? '',
    backSay: spec?.backSay ?? '',
  };
}

function viewStep(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  position: Position,
  step: Step,
): StepView {
  const context = contextOf(facts.state);
  const holdPoint = compiled.holdPointOfStep.get(step.id);
  return {
    id: step.id,
    phase: step.phase,
    title: step.title,
    short: step.short,
    place: placeOf(facts, position, step),
    rounds: facts.rounds[step.id] ?? 0,
    holdPoint: holdPoint
      ? {
          id: holdPoint.id,
          isOpen: isOpen(compiled, holdPoint, context),
          missing: describeConditions(compiled, holdPoint, context).filter(({ isMet }) => !isMet)
            .length,
        }
      : null,
    loopsTo: step.loop?.backTo ?? null,
  };
}

function placeOf({ state }: CaseFacts, position: Position, { id }: Step): StepPlace {
  if (position.kind !== 'done' && position.step.id === id) return position.kind;
  const passed = contextOf(state).passed[id];
  return passed === 'finished' ? 'done' : passed === undefined ? 'ahead' : 'skipped';
}

function viewCurrent(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  position: Position,
  isHeld: boolean,
): TrackView['current'] {
  if (position.kind === 'done') return null;
  const { step } = position;
  const context = contextOf(facts.state);
  const isDoing = position.kind === 'doing';
  return {
    step: step.id,
    title: step.title,
    detail: fillText(compiled, step.detail, context),
    since: isDoing ? (facts.stepSince[step.id] ?? null) : null,
    round: Math.max(1, facts.rounds[step.id] ?? 0),
    beginSay: !isDoing && !isHeld ? step.say : null,
    canFinish: isDoing && !context.isClockHeld && isReadyToFinish(compiled, step.id, context),
  };
}

function viewPhase(compiled: CompiledProcedure, facts: CaseFacts, step: Step): PhaseView | null {
  const phase = compiled.outline.phases.find(
    ({ id, track }) => id === step.phase && track === step.track,
  );
  const since = facts.phaseSince[step.phase];
  if (!phase || !since) return null;
  return {
    id: phase.id,
    title: phase.title,
    isQuiet: phase.isQuiet,
    since,
    usualMs: phase.usualMin === null ? null : phase.usualMin * 60_000,
  };
}

/** The steps from the one in hand on, along the way that the track will take. */
function stepsAhead(
  { steps }: CompiledProcedure,
  { state }: CaseFacts,
  position: Position,
  count: number,
): readonly Step[] {
  if (position.kind === 'done') return [];
  const { passed } = contextOf(state);
  const found: Step[] = [position.step];
  for (let id = position.step.next; id !== null && found.length < count;) {
    const step = steps.get(id);
    if (!step) break;
    // What was done ahead needs nothing any more.
    if (!(id in passed)) found.push(step);
    id = step.next;
  }
  return found;
}

function viewCues(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  position: Position,
): readonly CueView[] {
  const context = contextOf(facts.state);
  return stepsAhead(compiled, facts, position, CUES_SHOWN).map(({ id, cue }) => ({
    step: id,
    text: fillText(compiled, cue, context),
  }));
}

/** Instruments that must be opened now, because their step is as near as their lead. */
function viewPrepare(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  position: Position,
): readonly PrepareView[] {
  const { instruments } = compiled.procedure;
  const coming = stepsAhead(compiled, facts, position, MOST_LEAD + 1);
  return instruments.flatMap(({ id, label, tray, leadSteps }): PrepareView[] => {
    const inSteps = coming.findIndex(({ uses }) => uses.includes(id));
    return leadSteps !== undefined && inSteps > 0 && inSteps <= leadSteps
      ? [{ text: label, tray, inSteps }]
      : [];
  });
}

function viewLeaveOut(position: Position): TrackView['leaveOut'] {
  if (position.kind === 'done' || !position.step.optional) return null;
  return { step: position.step.id, ...position.step.optional };
}

function viewAhead(
  steps: readonly Step[],
  { state }: CaseFacts,
  position: Position,
): TrackView['ahead'] {
  if (position.kind === 'done') return [];
  const { passed } = contextOf(state);
  return steps
    .slice(steps.indexOf(position.step) + 1)
    .flatMap(({ id, ahead }) => (ahead && !(id in passed) ? [{ step: id, ...ahead }] : []));
}

function viewExit(position: Position): TrackView['exit'] {
  if (position.kind === 'done') return null;
  const { exit } = position.step;
  return exit && exit.itemsDone >= exit.atLeast
    ? { group: exit.group, label: exit.endLabel, say: exit.endSay }
    : null;
}
