/**
 * Writes out a procedure: a group of steps for each screw becomes plain steps with ids
 * of their own, ranges become lists, and an alternative's phase takes its place on the
 * line before the step at which it joins. Nothing further down knows repeats.
 * Hold points inside a repeat may name `{item}`; one is made for each item.
 */
import { asId } from '../domain';
import type { AlternativeId, CaptureId, HoldPointId, PhaseId, StepId, TrackId } from '../domain';
import type { Alternative, Capture, Expanded, HoldPoint, Step } from './expanded';
import { toStep } from './expand-step';
import type { Placed } from './expand-step';
import { writeOutValues } from './values-of';
import type { AlternativeSpec, CaptureSpec, HoldPointSpec, PhaseSpec, Procedure, RepeatSpec, TrackSpec } from './format'; // prettier-ignore

/** Expands repeats and alternatives and links the steps of each track. */
export function expandProcedure(procedure: Procedure): Expanded {
  const repeats = procedure.tracks.flatMap(listRepeats);
  const items = [...new Set(repeats.flatMap((repeat) => repeat.items))];
  const holdPoints = procedure.holdPoints.flatMap((holdPoint) =>
    holdPoint.id.includes('{item}') ? items.map((item) => fillItem(holdPoint, item)) : [holdPoint],
  );
  const placed = procedure.tracks.map(placeTrack);
  const steps = placed.flatMap((track) => track.map((_, index) => toStep(track, index)));
  return {
    steps,
    captures: orderCaptures(procedure, repeats, steps),
    holdPoints: holdPoints.map(toHoldPoint),
    alternatives: procedure.tracks.flatMap((track) =>
      track.alternatives.map((alternative) => toAlternative(track, alternative, steps)),
    ),
  };
}

/** All phases of a track with the alternative that each belongs to, in the order of the line. */
export function listPhases(
  track: TrackSpec,
): readonly { readonly phase: PhaseSpec; readonly alternative: AlternativeSpec | null }[] {
  const ids = track.phases.map(({ steps }) => steps.flatMap(idsOf));
  const placeOf = ({ joins }: AlternativeSpec) => {
    const index = ids.findIndex((inPhase) => joins !== null && inPhase.includes(joins));
    return index === -1 ? ids.length : index;
  };
  const at = (index: number) =>
    track.alternatives.flatMap((alternative) =>
      alternative.phase && placeOf(alternative) === index
        ? [{ phase: alternative.phase, alternative }]
        : [],
    );
  return [
    ...track.phases.flatMap((phase, index) => [...at(index), { phase, alternative: null }]),
    ...at(ids.length),
  ];
}

function idsOf(entry: PhaseSpec['steps'][number]): readonly string[] {
  if (!('repeat' in entry)) return [entry.id];
  const { items, steps } = entry.repeat;
  return items.flatMap((item) => steps.map(({ id }) => id.replaceAll('{item}', item)));
}

function listRepeats(track: TrackSpec): readonly RepeatSpec[] {
  return listPhases(track).flatMap(({ phase }) =>
    phase.steps.flatMap((entry) => ('repeat' in entry ? [entry.repeat] : [])),
  );
}

/**
 * The steps of a track in the order of its line. An alternative's stand before the step
 * it joins where that is the first of its phase, and before that phase otherwise.
 */
function placeTrack(track: TrackSpec): readonly Placed[] {
  return listPhases(track).flatMap(({ phase, alternative }) => {
    const place = {
      track: asId<TrackId>(track.id),
      phase: asId<PhaseId>(phase.id),
      alternative: alternative && asId<AlternativeId>(alternative.id),
      joins: alternative ? alternative.joins : null,
    };
    return phase.steps.flatMap((entry): Placed[] => {
      if (!('repeat' in entry)) return [{ ...place, spec: entry, repeat: null }];
      const { repeat } = entry;
      return repeat.items.flatMap((item, itemsDone) =>
        fillItem(repeat.steps, item).map((spec, index) => ({
          ...place,
          spec,
          repeat: { spec: repeat, itemsDone, isFirst: index === 0 },
        })),
      );
    });
  });
}

/**
 * All captures in the order in which people meet them: as written, those of a
 * repeat before the first written one that is taken after the repeat.
 */
function orderCaptures(
  procedure: Procedure,
  repeats: readonly RepeatSpec[],
  steps: readonly Step[],
): readonly Capture[] {
  const taken: readonly string[] = steps.flatMap((step) => step.captures);
  const ordered: CaptureSpec[] = [...procedure.captures];
  for (const { items, captures: inner } of repeats) {
    const expanded = items.flatMap((item) => fillItem(inner, item));
    const last = Math.max(...expanded.map(({ id }) => taken.indexOf(id)));
    const after = taken.slice(last + 1).find((id) => ordered.some((capture) => capture.id === id));
    const place = ordered.findIndex(({ id }) => id === after);
    ordered.splice(place === -1 ? ordered.length : place, 0, ...expanded);
  }
  return ordered.map(toCapture);
}

function toCapture(spec: CaptureSpec): Capture {
  const id = asId<CaptureId>(spec.id);
  return spec.kind === 'number' || spec.kind === 'quantity'
    ? { ...spec, id, values: writeOutValues(spec.values) }
    : { ...spec, id };
}

function toAlternative(
  track: TrackSpec,
  spec: AlternativeSpec,
  steps: readonly Step[],
): Alternative {
  const line = steps.filter((step) => step.track === track.id && step.alternative === null);
  const ids: readonly string[] = line.map(({ id }) => id);
  const first = steps.find(({ alternative }) => alternative === spec.id);
  return {
    id: asId<AlternativeId>(spec.id),
    track: asId<TrackId>(track.id),
    label: spec.label,
    say: spec.say,
    why: spec.why,
    at: line.slice(ids.indexOf(spec.from), ids.indexOf(spec.until) + 1).map(({ id }) => id),
    to: first?.id ?? (spec.joins === null ? null : asId<StepId>(spec.joins)),
    alsoTo: spec.alsoTo.map((id) => asId<StepId>(id)),
  };
}

function toHoldPoint({ id, title, reason, guards, needs }: HoldPointSpec): HoldPoint {
  return {
    id: asId<HoldPointId>(id),
    title,
    reason,
    guards:
      guards.type === 'step'
        ? { type: 'step', step: asId<StepId>(guards.step) }
        : { type: 'capture', capture: asId<CaptureId>(guards.capture) },
    needs,
  };
}

/** Replaces `{item}` in every text of a piece of data. */
function fillItem<T>(data: T, item: string): T {
  return JSON.parse(JSON.stringify(data).replaceAll('{item}', item)) as T;
}
