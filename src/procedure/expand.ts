/**
 * Writes out the repeats of a procedure: a group of steps for each screw becomes
 * plain steps with ids of their own, so that nothing further down knows repeats.
 * Hold points inside may name `{item}`; one is made for each item.
 */
import { asId } from '../domain';
import type { CaptureId, GroupId, HoldPointId, LoopId, PhaseId, StepId, TrackId } from '../domain';
import type {
  CaptureSpec,
  ConditionSpec,
  HoldPointSpec,
  Procedure,
  RepeatSpec,
  StepSpec,
} from './format';

/** Where a repeated group may be left: at the first step of an item. */
export interface GroupExit {
  readonly group: GroupId;
  readonly title: string;
  readonly endSay: string;
  readonly endLabel: string;
  /** How many items are complete when the track stands here. */
  readonly itemsDone: number;
  readonly atLeast: number;
  /** The step after the group; null where the track ends. */
  readonly next: StepId | null;
}

export interface LoopBack {
  readonly id: LoopId;
  readonly title: string;
  readonly capture: CaptureId;
  readonly is: string;
  readonly backTo: StepId;
}

/** A step with everything about it in one place. */
export interface Step {
  readonly id: StepId;
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly title: string;
  readonly short: string;
  readonly detail: string;
  readonly cue: string;
  readonly captures: readonly CaptureId[];
  readonly begins: 'itself' | 'said';
  readonly say: string | null;
  readonly loop: LoopBack | null;
  readonly exit: GroupExit | null;
  readonly previous: StepId | null;
  readonly next: StepId | null;
}

export type Capture = Omit<CaptureSpec, 'id'> & CaptureSpec & { readonly id: CaptureId };

export interface HoldPoint {
  readonly id: HoldPointId;
  readonly title: string;
  readonly reason: string;
  readonly guards:
    | { readonly type: 'step'; readonly step: StepId }
    | { readonly type: 'capture'; readonly capture: CaptureId };
  readonly needs: readonly ConditionSpec[];
}

export interface Expanded {
  readonly steps: readonly Step[];
  readonly captures: readonly Capture[];
  readonly holdPoints: readonly HoldPoint[];
}

interface Placed {
  readonly spec: StepSpec;
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly repeat: {
    readonly spec: RepeatSpec;
    readonly itemsDone: number;
    readonly isFirst: boolean;
  } | null;
}

/** Expands repeats and links the steps of each track. */
export function expandProcedure(procedure: Procedure): Expanded {
  const repeats = procedure.tracks.flatMap(({ phases }) =>
    phases.flatMap(({ steps }) =>
      steps.flatMap((entry) => ('repeat' in entry ? [entry.repeat] : [])),
    ),
  );
  const items = [...new Set(repeats.flatMap((repeat) => repeat.items))];
  const holdPoints = procedure.holdPoints.flatMap((holdPoint) =>
    holdPoint.id.includes('{item}') ? items.map((item) => fillItem(holdPoint, item)) : [holdPoint],
  );
  const steps = procedure.tracks.flatMap((track) => linkTrack(placeSteps(track)));
  return {
    steps,
    captures: orderCaptures(procedure, repeats, steps),
    holdPoints: holdPoints.map(toHoldPoint),
  };
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
  return ordered.map((capture) => ({ ...capture, id: asId<CaptureId>(capture.id) }));
}

function placeSteps(track: Procedure['tracks'][number]): Placed[] {
  return track.phases.flatMap((phase) => {
    const place = { track: asId<TrackId>(track.id), phase: asId<PhaseId>(phase.id) };
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

function linkTrack(placed: readonly Placed[]): Step[] {
  return placed.map(({ spec, track, phase, repeat }, index) => ({
    id: asId<StepId>(spec.id),
    track,
    phase,
    title: spec.title,
    short: spec.short,
    detail: spec.detail,
    cue: spec.cue,
    captures: spec.captures.map((id) => asId<CaptureId>(id)),
    begins: spec.begins,
    say: spec.say ?? null,
    loop: spec.loop ? toLoopBack(spec.loop) : null,
    exit: repeat?.isFirst ? toExit(repeat, placed) : null,
    previous: idAt(placed, index - 1),
    next: idAt(placed, index + 1),
  }));
}

function toExit(
  { spec, itemsDone }: NonNullable<Placed['repeat']>,
  placed: readonly Placed[],
): GroupExit {
  const last = placed.findLastIndex((other) => other.repeat?.spec === spec);
  return {
    group: asId<GroupId>(spec.id),
    title: spec.title,
    endSay: spec.endSay,
    endLabel: spec.endLabel,
    itemsDone,
    atLeast: spec.atLeast,
    next: idAt(placed, last + 1),
  };
}

function toLoopBack(loop: NonNullable<StepSpec['loop']>): LoopBack {
  return {
    id: asId<LoopId>(loop.id),
    title: loop.title,
    capture: asId<CaptureId>(loop.when.capture),
    is: loop.when.is,
    backTo: asId<StepId>(loop.backTo),
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

function idAt(placed: readonly Placed[], index: number): StepId | null {
  const found = placed[index];
  return found ? asId<StepId>(found.spec.id) : null;
}

/** Replaces `{item}` in every text of a piece of data. */
function fillItem<T>(data: T, item: string): T {
  return JSON.parse(JSON.stringify(data).replaceAll('{item}', item)) as T;
}
