/**
 * Timers of a running case, folded from its entries: since when each runs, how often it
 * has come due, and when it comes due next. The interval is the site's where it has set one.
 */
import { asId, elapsedBetween } from '../domain';
import type { CaseSetup, Entry, Stamp, TimerId } from '../domain';
import type { Procedure } from '../procedure';

export interface TimerFact {
  readonly timer: TimerId;
  readonly startedAt: Stamp;
  readonly startedSeq: number;
  /** Where the next interval begins: the start, or the last answer. */
  readonly countsFrom: Stamp;
  /** How often it has come due since it started. */
  readonly dues: number;
  /** A reminder that nobody has answered yet. */
  readonly isDue: boolean;
  /** The entry that stopped it; null while it runs. */
  readonly stoppedSeq: number | null;
}

export type TimerFacts = Readonly<Record<TimerId, TimerFact>>;
type TimerSpec = Procedure['timers'][number];

const MS_A_MINUTE = 60_000;

/** The timers after one more entry. */
export function addToTimers(timers: TimerFacts, entry: Entry, stamp: Stamp): TimerFacts {
  switch (entry.type) {
    case 'timer.started': {
      const { timer } = entry.data;
      const fresh: TimerFact = {
        timer,
        startedAt: stamp,
        startedSeq: entry.seq,
        countsFrom: stamp,
        dues: 0,
        isDue: false,
        stoppedSeq: null,
      };
      return { ...timers, [timer]: fresh };
    }
    case 'timer.stopped':
      return change(timers, entry.data.timer, { stoppedSeq: entry.seq, isDue: false });
    case 'timer.due': {
      const dues = (timers[entry.data.timer]?.dues ?? 0) + 1;
      return change(timers, entry.data.timer, { dues, isDue: true });
    }
    case 'timer.answered':
      return change(timers, entry.data.timer, { countsFrom: stamp, isDue: false });
    case 'order.undone':
      return undo(timers, entry.data.since);
    default:
      return timers;
  }
}

/** Milliseconds until a running timer comes due, below zero where it is past; null where it will not. */
function msUntilDue(
  spec: TimerSpec,
  fact: TimerFact,
  setup: CaseSetup | null,
  now: Stamp,
): number | null {
  if (fact.stoppedSeq !== null) return null;
  const every = intervalMs(spec, setup);
  switch (spec.repeat) {
    case 'never':
      return fact.dues > 0 ? null : every - elapsedBetween(fact.startedAt, now).ms;
    case 'from-start':
      return every * (fact.dues + 1) - elapsedBetween(fact.startedAt, now).ms;
    case 'from-answer':
      return fact.isDue ? null : every - elapsedBetween(fact.countsFrom, now).ms;
  }
}

/** The timer that comes due next, and in how many milliseconds; null where none will. */
export function nextDue(
  { timers }: Procedure,
  facts: { readonly timers: TimerFacts; readonly setup: CaseSetup | null },
  now: Stamp,
): { readonly timer: TimerId; readonly ms: number } | null {
  const coming = timers.flatMap((spec) => {
    const fact = facts.timers[asId<TimerId>(spec.id)];
    const ms = fact ? msUntilDue(spec, fact, facts.setup, now) : null;
    return fact && ms !== null ? [{ timer: fact.timer, ms }] : [];
  });
  return coming.sort((a, b) => a.ms - b.ms)[0] ?? null;
}

/** After how long a timer is due here. */
export function intervalMs({ id, dueMin }: TimerSpec, setup: CaseSetup | null): number {
  return (setup?.intervals?.[id] ?? dueMin) * MS_A_MINUTE;
}

function change(timers: TimerFacts, timer: TimerId, part: Partial<TimerFact>): TimerFacts {
  const before = timers[timer];
  return before ? { ...timers, [timer]: { ...before, ...part } } : timers;
}

/** What an order that was taken back had started is gone; what it had stopped runs on. */
function undo(timers: TimerFacts, since: number): TimerFacts {
  const kept = Object.entries(timers)
    .filter(([, { startedSeq }]) => startedSeq < since)
    .map(([id, fact]) => [
      id,
      fact.stoppedSeq !== null && fact.stoppedSeq >= since ? { ...fact, stoppedSeq: null } : fact,
    ]);
  return Object.fromEntries(kept) as TimerFacts;
}
