/** Tracks, phases and the other ways on: every name, and that a way leads forward. */
import { listPhases } from '../expand';
import type { Expanded } from '../expanded';
import type { AlternativeSpec, Procedure, TrackSpec } from '../format';
import { findDoubles, findUnknown, unless } from './finding';
import type { Finding } from './finding';

/** Checks phases and alternatives of every track. */
export function checkAlternatives(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const { tracks } = procedure;
  return [
    ...findDoubles(
      'id-twice',
      'phases',
      tracks.flatMap((track) => listPhases(track).map(({ phase }) => phase.id)),
    ),
    ...findDoubles(
      'id-twice',
      'alternatives',
      tracks.flatMap(({ alternatives }) => alternatives.map(({ id }) => id)),
    ),
    ...tracks.flatMap((track) =>
      track.alternatives.flatMap((spec) => checkAlternative(track, spec, expanded)),
    ),
  ];
}

function checkAlternative(
  track: TrackSpec,
  spec: AlternativeSpec,
  { steps }: Expanded,
): readonly Finding[] {
  const path = `alternatives.${spec.id}`;
  const line = steps.filter(
    ({ track: id, alternative }) => id === track.id && alternative === null,
  );
  const ids: readonly string[] = line.map(({ id }) => id);
  const [from, until] = [ids.indexOf(spec.from), ids.indexOf(spec.until)];
  const joins = spec.joins === null ? ids.length : ids.indexOf(spec.joins);
  const startsPhase = (index: number) => line[index]?.phase !== line[index - 1]?.phase;
  const others = steps.filter(({ track: id }) => id !== track.id);
  return [
    ...findUnknown(
      'unknown-name',
      `${path}.from`,
      'a step on the main line of this track',
      [spec.from],
      ids,
    ),
    ...findUnknown(
      'unknown-name',
      `${path}.until`,
      'a step on the main line of this track',
      [spec.until],
      ids,
    ),
    ...findUnknown(
      'unknown-name',
      `${path}.joins`,
      'a step on the main line of this track',
      spec.joins === null ? [] : [spec.joins],
      ids,
    ),
    ...unless(
      from <= until || until === -1,
      'alternative-backwards',
      `${path}.until`,
      'a step not before "from"',
      spec.until,
    ),
    ...unless(
      joins === -1 || joins > until,
      'alternative-backwards',
      `${path}.joins`,
      'a step after "until"',
      spec.joins ?? '',
    ),
    ...unless(
      joins === -1 || joins <= until || joins === ids.length || startsPhase(joins),
      'alternative-joins-inside',
      `${path}.joins`,
      'the first step of a phase',
      spec.joins ?? '',
    ),
    ...unless(
      spec.phase !== undefined || spec.joins !== null,
      'alternative-empty',
      `${path}.phase`,
      'steps, or a step to go on at',
      'neither',
    ),
    ...findUnknown(
      'unknown-name',
      `${path}.alsoTo`,
      'a step of another track',
      spec.alsoTo,
      others.filter(({ alternative }) => alternative === null).map(({ id }) => id),
    ),
    ...findDoubles(
      'id-twice',
      `${path}.alsoTo`,
      spec.alsoTo.map((id) => others.find((step) => step.id === id)?.track ?? id),
    ),
  ];
}
