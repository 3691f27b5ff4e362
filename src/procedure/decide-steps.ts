/** Orders that move a track: begin, finish, go back, leave out, end a group, go another way. */
import { asId, ok } from '../domain';
import type { AlternativeId, CaptureId, Fact, StepId, TrackId } from '../domain';
import { isOpen } from './conditions';
import { listUncounted } from './counts';
import type { Alternative, Step } from './expanded';
import { finishing, listMissingCaptures, listOpenChecks } from './finishing';
import { dropReadBack, refuse, refuseHeld, refuseReadBackOpen } from './moment';
import type { Facts, Moment } from './moment';
import { reopening } from './reopening';
import { carryOut } from './settle';
import { positionOf } from './state';

/** Begins the step that its track waits for. */
export function beginStep(moment: Moment, id: StepId): Facts {
  const { compiled, context, state } = moment;
  const step = compiled.steps.get(id);
  if (!step) return refuse('unknown-name', { name: id });
  const holdPoint = compiled.holdPointOfStep.get(id);
  if (holdPoint && !isOpen(compiled, holdPoint, context)) {
    return refuseHeld(moment, holdPoint, step.title);
  }
  const position = positionOf(compiled, state, step.track);
  if (position.kind === 'waiting' && position.step.id === id) {
    return ok([{ type: 'step.begun', data: { track: step.track, step: id } }]);
  }
  const current = position.kind === 'done' ? 'all done' : position.step.title;
  return refuse('step-not-next', { step: id, title: step.title, current });
}

/** Finishes the step in hand, if nothing of it is missing. */
export function finishStep(moment: Moment, track: TrackId): Facts {
  const { compiled, context, state } = moment;
  if (!compiled.stepsOfTrack.has(track)) return refuse('unknown-name', { name: track });
  const position = positionOf(compiled, state, track);
  if (position.kind !== 'doing') return nothingInHand(moment, track);
  const { step } = position;
  if (context.offered && step.captures.includes(context.offered.capture)) {
    return refuseReadBackOpen(moment);
  }
  return missingFor(moment, step) ?? ok(finishing(step, context));
}

function missingFor({ compiled, context }: Moment, step: Step): Facts | null {
  const { track } = step;
  const captures = listMissingCaptures(step, context);
  if (captures.length > 0) {
    const label = (id: CaptureId) => compiled.captures.get(id)?.label ?? id;
    return refuse('step-needs-captures', { track, missing: captures.map(label).join(', ') });
  }
  const checks = listOpenChecks(step, context);
  if (checks.length > 0) {
    return refuse('step-needs-answers', {
      track,
      missing: checks.map(({ text }) => text).join('; '),
    });
  }
  const items = step.count === null ? [] : listUncounted(compiled.procedure, context, step.count);
  return items.length > 0
    ? refuse('step-needs-counts', { track, missing: items.map(({ label }) => label).join(', ') })
    : null;
}

function nothingInHand(moment: Moment, track: TrackId): Facts {
  const { compiled, context, state } = moment;
  const position = positionOf(compiled, state, track);
  const title = compiled.outline.tracks.find(({ id }) => id === track)?.title ?? track;
  if (position.kind === 'waiting') {
    const holdPoint = compiled.holdPointOfStep.get(position.step.id);
    if (holdPoint && !isOpen(compiled, holdPoint, context)) {
      return refuseHeld(moment, holdPoint, position.step.title);
    }
  }
  return refuse('no-step-active', { track: title });
}

/** Reopens the last step behind; from the desk only where that reopens another track's steps. */
export function goBack(moment: Moment, track: TrackId): Facts {
  const { compiled, context, state } = moment;
  const steps = compiled.stepsOfTrack.get(track);
  if (!steps) return refuse('unknown-name', { name: track });
  const position = positionOf(compiled, state, track);
  const here = position.kind === 'done' ? steps.length : steps.indexOf(position.step);
  const behind = steps.slice(0, here);
  const at = behind.findLastIndex(({ id }) =>
    ['finished', 'skipped'].includes(context.passed[id] ?? ''),
  );
  const to = behind[at];
  // What another track's choice left out can only come back with that choice.
  const crossed = behind.slice(at + 1).some(({ id }) => context.passed[id] === 'bypassed');
  if (!to || (crossed && !isOwnChoice(moment, track))) return refuse('no-way-back', { track });
  const facts = [...dropReadBack(moment, track), ...reopening(compiled, state, track, to.id)];
  const others = reopenedElsewhere(moment, track, facts);
  // One phrase must not wipe what another pair of hands has settled.
  return others.length > 0 && moment.source !== 'desk'
    ? refuse('go-back-reaches-far', { track, steps: others.join(', ') })
    : ok(facts);
}

/** Whether the latest choice that moved this track was made on it. */
function isOwnChoice({ compiled, context }: Moment, track: TrackId): boolean {
  const ids = Object.keys(context.chosen) as AlternativeId[];
  return ids.some((id) => compiled.alternatives.get(id)?.track === track);
}

/** Titles of finished steps on other tracks that these facts would reopen. */
function reopenedElsewhere(
  { compiled, state }: Moment,
  track: TrackId,
  facts: readonly Fact[],
): readonly string[] {
  return carryOut(compiled, state, facts).facts.flatMap(({ fact }) =>
    fact.type === 'step.reopened' && fact.data.track !== track
      ? [compiled.steps.get(fact.data.to)?.title ?? fact.data.to]
      : [],
  );
}

/** Leaves a step out at the desk, with a reason; never one that a closed hold point guards. */
export function skipStep(moment: Moment, track: TrackId, reason: string): Facts {
  const { compiled, context, state, source } = moment;
  if (source !== 'desk') return refuse('skip-only-at-desk', { source });
  if (reason.trim() === '') return refuse('skip-needs-reason');
  const position = positionOf(compiled, state, track);
  if (position.kind === 'done') return refuse('no-step-active', { track });
  const holdPoint = compiled.holdPointOfStep.get(position.step.id);
  // Leaving out what a hold point guards would be a way around it.
  if (holdPoint && !isOpen(compiled, holdPoint, context)) {
    return refuseHeld(moment, holdPoint, position.step.title);
  }
  return ok([
    ...dropReadBack(moment, track),
    { type: 'step.skipped', data: { track, step: position.step.id, reason: reason.trim() } },
  ]);
}

/** Leaves out a step that the procedure calls optional, by anybody. */
export function leaveOut(moment: Moment, id: StepId): Facts {
  const { compiled, context, state } = moment;
  const step = compiled.steps.get(id);
  if (!step) return refuse('unknown-name', { name: id });
  const position = positionOf(compiled, state, step.track);
  const isHere = position.kind !== 'done' && position.step.id === id;
  if (!isHere || !step.optional)
    return refuse('step-not-optional', { step: id, title: step.title });
  const holdPoint = compiled.holdPointOfStep.get(id);
  if (holdPoint && !isOpen(compiled, holdPoint, context)) {
    return refuseHeld(moment, holdPoint, step.title);
  }
  return ok([
    ...dropReadBack(moment, step.track),
    { type: 'step.leftOut', data: { track: step.track, step: id } },
  ]);
}

/** Reports a step that was done before its turn. */
export function reportAhead({ compiled, context, state }: Moment, id: StepId): Facts {
  const step = compiled.steps.get(id);
  if (!step) return refuse('unknown-name', { name: id });
  const position = positionOf(compiled, state, step.track);
  const line = compiled.stepsOfTrack.get(step.track) ?? [];
  const isLater = position.kind !== 'done' && line.indexOf(step) > line.indexOf(position.step);
  return step.ahead && isLater && !(id in context.passed)
    ? ok([{ type: 'step.doneAhead', data: { track: step.track, step: id } }])
    : refuse('step-not-ahead', { step: id, title: step.title });
}

/** Ends a repeated group where an item begins and enough are done. */
export function finishGroup(moment: Moment, group: string): Facts {
  const { compiled, state } = moment;
  for (const track of compiled.tracks) {
    const position = positionOf(compiled, state, track);
    if (position.kind === 'done') continue;
    const { exit, id } = position.step;
    if (exit?.group === group && exit.itemsDone >= exit.atLeast) {
      return ok([
        ...dropReadBack(moment, track),
        { type: 'group.finished', data: { track, group: exit.group, at: id } },
      ]);
    }
  }
  return refuse('group-not-open', { group });
}

/** Goes another way from here on; other tracks move with it where the file says so. */
export function chooseAlternative(moment: Moment, id: AlternativeId): Facts {
  const { compiled, context, state } = moment;
  const alternative = compiled.alternatives.get(id);
  if (!alternative) return refuse('unknown-name', { name: id });
  const position = positionOf(compiled, state, alternative.track);
  const isOpenHere = position.kind !== 'done' && alternative.at.includes(position.step.id);
  if (!isOpenHere || id in context.chosen) {
    return refuse('alternative-not-open', { alternative: id, label: alternative.label });
  }
  const at = position.step.id;
  const others = listMoves(moment, alternative);
  const moved = Object.fromEntries(others.map(({ track, from }) => [track, from]));
  return ok([
    ...dropReadBack(moment, alternative.track),
    { type: 'alternative.chosen', data: { track: alternative.track, alternative: id, at, moved } },
    ...[{ track: alternative.track, from: at, to: alternative.to }, ...others].map(
      (move): Fact => ({ type: 'track.moved', data: { ...move, alternative: id } }),
    ),
  ]);
}

/** The other tracks that stand before the step to which an alternative moves them. */
function listMoves(
  { compiled, state }: Moment,
  { alsoTo }: Alternative,
): readonly { readonly track: TrackId; readonly from: StepId; readonly to: StepId }[] {
  return alsoTo.flatMap((to) => {
    const track = compiled.steps.get(to)?.track ?? asId<TrackId>('');
    const line = compiled.stepsOfTrack.get(track) ?? [];
    const position = positionOf(compiled, state, track);
    if (position.kind === 'done') return [];
    const isBefore = line.indexOf(position.step) < line.findIndex((step) => step.id === to);
    return isBefore ? [{ track, from: position.step.id, to }] : [];
  });
}
