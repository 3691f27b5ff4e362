/**
 * The line of a track in small: where its stations and hold points lie on a strip
 * of a given width. Pure.
 */
import type { StepPlace, TrackView } from '../../session';

/** Room at both ends, for the large station. */
const END = 9;

export interface Station {
  readonly x: number;
  readonly place: StepPlace;
  /** A hold point that would stop the step now lies before it. */
  readonly isBarred: boolean;
  /** Where the bar lies: halfway to the station before. */
  readonly barX: number;
}

/** Stations from left to right, evenly apart. */
export function layOutStations(track: TrackView, width: number): readonly Station[] {
  const gap = (width - 2 * END) / Math.max(1, track.steps.length - 1);
  return track.steps.map(({ place, holdPoint }, index) => {
    const x = END + index * gap;
    return {
      x,
      place,
      isBarred: holdPoint !== null && !holdPoint.isOpen && place !== 'done' && place !== 'skipped',
      barX: index === 0 ? x : x - gap / 2,
    };
  });
}

/** One sentence for those who can't see the line. */
export function describeLine({ steps }: TrackView): string {
  const passed = steps.filter(({ place }) => place === 'done' || place === 'skipped').length;
  return `${passed} of ${steps.length} steps passed`;
}
