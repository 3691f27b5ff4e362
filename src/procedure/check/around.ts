/** Timers, tallies and counts: the events and items they name, and the words they answer to. */
import type { Expanded } from '../expanded';
import type { Procedure, TimerEventSpec } from '../format';
import { findUnknown, found, unless } from './finding';
import type { Finding } from './finding';

/** Checks what surrounds the steps. */
export function checkAround(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  const { timers, counts, countItems } = procedure;
  const baselines = counts.filter(({ kind }) => kind === 'baseline');
  const reliefs = counts.filter(({ kind }) => kind === 'relief');
  const taken: readonly string[] = expanded.steps.flatMap(({ count }) => count ?? []);
  return [
    ...timers.flatMap((timer) => {
      const path = `timers.${timer.id}`;
      const canStart = timer.starts !== undefined || timer.startSay !== undefined;
      return [
        ...unless(
          canStart,
          'timer-never-starts',
          path,
          'an event or words that start it',
          'neither',
        ),
        ...(timer.starts ? checkEvent(expanded, `${path}.starts`, timer.starts) : []),
        ...(timer.stops ? checkEvent(expanded, `${path}.stops`, timer.stops) : []),
      ];
    }),
    ...unless(
      counts.length === 0 || countItems.length > 0,
      'count-without-baseline',
      'countItems',
      'items to count',
      'none',
    ),
    ...unless(
      counts.length === 0 || baselines.length === 1,
      'count-without-baseline',
      'counts',
      'one baseline count',
      String(baselines.length),
    ),
    ...unless(
      reliefs.length <= 1,
      'relief-count-faulty',
      'counts',
      'one relief count at most',
      String(reliefs.length),
    ),
    ...counts
      .filter(({ id, kind }) => kind !== 'relief' && !taken.includes(id))
      .map(({ id }) => found('count-never-taken', `counts.${id}`, 'a step that takes it', 'none')),
    ...reliefs
      .filter(({ id }) => taken.includes(id))
      .map(({ id }) =>
        found('relief-count-faulty', `counts.${id}`, 'no step; it falls due by itself', 'a step'),
      ),
  ];
}

function checkEvent(
  { steps, captures }: Expanded,
  path: string,
  event: TimerEventSpec,
): readonly Finding[] {
  switch (event.type) {
    case 'begun':
    case 'finished':
      return findUnknown(
        'unknown-name',
        path,
        'a step',
        [event.step],
        steps.map(({ id }) => id),
      );
    case 'confirmed':
      return findUnknown(
        'unknown-name',
        path,
        'a capture',
        [event.capture],
        captures.map(({ id }) => id),
      );
    case 'named-time':
      return [];
  }
}
