/**
 * Lanes beside a track: which ways back and ways round run side by side, by the places of
 * their steps on the track's line. Pure.
 */
import type { StepId } from '../../domain';
import type { SketchTrack } from '../../session';

interface Span {
  readonly from: number;
  readonly to: number;
}

/** The ways back and round of a track by the places of their steps, for the lanes. */
export function laneSpans(track: SketchTrack): readonly (readonly Span[])[] {
  const steps = track.phases.flatMap((phase) => phase.steps);
  const ids = steps.map(({ id }) => id);
  const spans = [...loopSpans(track, ids), ...waySpans(track, ids)];
  return spans.length === 0 ? [] : assignLanes(spans).lanes;
}

export function loopSpans(track: SketchTrack, ids: readonly StepId[]): readonly Span[] {
  return track.phases
    .flatMap((phase) => phase.steps)
    .flatMap(({ id, loop }) =>
      loop ? [{ from: ids.indexOf(loop.backTo), to: ids.indexOf(id) }] : [],
    );
}

export function waySpans(track: SketchTrack, ids: readonly StepId[]): readonly Span[] {
  return track.alternatives.map((way) => {
    const places = way.at.map((id) => ids.indexOf(id));
    const { last, join, passes } = courseOf(track, way);
    const own = track.phases.find(({ alternative }) => alternative === way.id)?.steps[0];
    const end = passes ? join : (own?.id ?? last);
    return { from: Math.min(...places), to: Math.max(...places, end === null ? 0 : ids.indexOf(end)) + 0.5 }; // prettier-ignore
  });
}

/** How another way goes on: after which step it leaves its own line, where it joins, and whether steps lie between. */
export function courseOf(
  { phases }: SketchTrack,
  { id, at, to }: SketchTrack['alternatives'][number],
): { readonly last: StepId | null; readonly join: StepId | null; readonly passes: boolean } {
  const ids = phases.flatMap(({ steps }) => steps.map((step) => step.id));
  const own = phases.filter(({ alternative }) => alternative === id).flatMap(({ steps }) => steps);
  const end = own.at(-1);
  const join = end ? end.next : to;
  const last = end?.id ?? at.at(-1) ?? null;
  const passes = join !== null && last !== null && ids.indexOf(join) !== ids.indexOf(last) + 1;
  return { last, join, passes };
}

/** First-fit lanes, the shortest spans nearest to the line. */
export function assignLanes(spans: readonly Span[]): {
  readonly lanes: readonly (readonly Span[])[];
  readonly laneOf: (span: number) => number;
} {
  const lanes: Span[][] = [];
  const chosen = new Map<number, number>();
  const order = spans.map((_, index) => index).sort((a, b) => lengthOf(spans[a]) - lengthOf(spans[b])); // prettier-ignore
  for (const index of order) {
    const span = spans[index];
    if (!span) continue;
    const free = lanes.findIndex((lane) =>
      lane.every((other) => other.to < span.from || other.from > span.to),
    );
    const lane = free === -1 ? lanes.length : free;
    (lanes[lane] ??= []).push(span);
    chosen.set(index, lane);
  }
  return { lanes, laneOf: (index) => chosen.get(index) ?? 0 };
}

const lengthOf = (span: Span | undefined): number => (span ? span.to - span.from : 0);
