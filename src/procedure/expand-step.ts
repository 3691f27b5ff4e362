/** Links one placed step to those after it and gives it its final form. */
import { asId } from '../domain';
import type {
  AlternativeId, CaptureId, CountId, GroupId, LoopId, PhaseId, StepId, TrackId,
} from '../domain'; // prettier-ignore
import type { GroupExit, LoopBack, Step } from './expanded';
import type { RepeatSpec, StepSpec } from './format';

/** A step where it stands on the line of its track. */
export interface Placed {
  readonly spec: StepSpec;
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly alternative: AlternativeId | null;
  /** Where its alternative goes on; null on the main line, or where the track ends. */
  readonly joins: string | null;
  readonly repeat: {
    readonly spec: RepeatSpec;
    readonly itemsDone: number;
    readonly isFirst: boolean;
  } | null;
}

/** The step at a place of its track's line. */
export function toStep(line: readonly Placed[], index: number): Step {
  const placed = line[index];
  if (!placed) throw new Error(`No step at place ${index} of the line`);
  const { spec, repeat } = placed;
  return {
    id: asId<StepId>(spec.id),
    track: placed.track,
    phase: placed.phase,
    alternative: placed.alternative,
    title: spec.title,
    short: spec.short,
    detail: spec.detail,
    cue: spec.cue,
    uses: spec.uses,
    captures: spec.captures.map((id) => asId<CaptureId>(id)),
    begins: spec.begins,
    say: spec.say ?? null,
    optional: spec.optional ?? null,
    ahead: spec.ahead ?? null,
    loop: spec.loop ? toLoopBack(spec.loop) : null,
    exit: repeat?.isFirst ? toExit(repeat, line) : null,
    checklist: spec.checklist ?? [],
    count: spec.count === undefined ? null : asId<CountId>(spec.count),
    begunMarks: spec.begunMarks ?? null,
    finishedMarks: spec.finishedMarks ?? null,
    usualMin: spec.usualMin ?? null,
    next: nextOf(line, index),
  };
}

/** The next step of the same strand: an alternative's last leads to where it joins. */
function nextOf(line: readonly Placed[], index: number): StepId | null {
  const here = line[index];
  const next = line.slice(index + 1).find(({ alternative }) => alternative === here?.alternative);
  const id = next ? next.spec.id : here?.joins;
  return id ? asId<StepId>(id) : null;
}

function toExit(
  { spec, itemsDone }: NonNullable<Placed['repeat']>,
  line: readonly Placed[],
): GroupExit {
  const last = line.findLastIndex((other) => other.repeat?.spec === spec);
  return {
    group: asId<GroupId>(spec.id),
    title: spec.title,
    endSay: spec.endSay,
    endLabel: spec.endLabel,
    itemsDone,
    atLeast: spec.atLeast,
    next: nextOf(line, last),
  };
}

function toLoopBack(loop: NonNullable<StepSpec['loop']>): LoopBack {
  return {
    id: asId<LoopId>(loop.id),
    title: loop.title,
    capture: asId<CaptureId>(loop.when.capture),
    is: loop.when.is,
    backTo: asId<StepId>(loop.backTo),
    warnAfter: loop.warnAfter ?? null,
  };
}
