/**
 * Folds the entries of a case into spans of time: what was done, waited for or
 * held, from when to when. Durations come from the monotonic clock inside a run;
 * a span that crosses a restart says that it was estimated from the wall clock.
 */
import { elapsedBetween } from '../domain';
import type {
  Elapsed,
  Entry,
  HoldPointId,
  Outline,
  PhaseId,
  Stamp,
  StepId,
  TrackId,
} from '../domain';

/** One stretch of a step in hand. */
export interface StepSpan {
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly step: StepId;
  /** 1 for the first time, 2 when it is done again. */
  readonly round: number;
  readonly from: Stamp;
  /** Null while it is in hand. */
  readonly to: Stamp | null;
  readonly ending: 'finished' | 'reopened' | 'held' | 'skipped' | 'left' | 'closed' | null;
}

/** A stretch in which the clock was held by order, with its reason. */
export interface ClockHoldSpan {
  readonly reason: string;
  readonly from: Stamp;
  readonly to: Stamp | null;
}

/** Something that is marked on the time line at one moment. */
export interface Mark {
  readonly kind:
    'loop' | 'override' | 'refusal' | 'skip' | 'restart' | 'milestone' | 'held' | 'late';
  readonly at: Stamp;
  readonly track: TrackId | null;
  readonly holdPoint: HoldPointId | null;
  readonly text: string;
}

export interface CaseTimes {
  readonly openedAt: Stamp | null;
  readonly closedAt: Stamp | null;
  readonly steps: readonly StepSpan[];
  readonly clockHolds: readonly ClockHoldSpan[];
  readonly marks: readonly Mark[];
}

/** Folds entries into times. Unknown step ids are left out. */
export function foldTimes(entries: readonly Entry[], outline: Outline): CaseTimes {
  const fold = new TimesFold(outline);
  for (const entry of entries) fold.take(entry);
  return fold.result();
}

/** How long a span took, up to `now` where it is still open. */
export function spanElapsed(span: { from: Stamp; to: Stamp | null }, now: Stamp): Elapsed {
  return elapsedBetween(span.from, span.to ?? now);
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };

/** The fold itself, for who takes entries one by one. */
export class TimesFold {
  #openedAt: Stamp | null = null;
  #closedAt: Stamp | null = null;
  readonly #steps: Writable<StepSpan>[] = [];
  readonly #holds: Writable<ClockHoldSpan>[] = [];
  readonly #marks: Mark[] = [];
  readonly #open = new Map<TrackId, Writable<StepSpan>>();
  readonly #rounds = new Map<StepId, number>();
  readonly #place = new Map<StepId, { track: TrackId; phase: PhaseId; title: string }>();

  constructor(outline: Outline) {
    for (const phase of outline.phases) {
      for (const { id, title } of phase.steps) {
        this.#place.set(id, { track: phase.track, phase: phase.id, title });
      }
    }
  }

  take(entry: Entry): void {
    const at: Stamp = { at: entry.at, mono: entry.mono, run: entry.run };
    switch (entry.type) {
      case 'case.opened':
        this.#openedAt = at;
        return;
      case 'case.closed':
        this.#closedAt = at;
        for (const track of [...this.#open.keys()]) this.#end(track, at, 'closed');
        this.#endHold(at);
        return;
      case 'step.begun':
        this.#begin(entry.data.track, entry.data.step, at);
        return;
      case 'step.finished':
        this.#end(entry.data.track, at, 'finished');
        return;
      case 'step.held':
        this.#end(entry.data.track, at, 'held');
        this.#mark(
          'held',
          at,
          entry.data.track,
          this.#title(entry.data.step),
          entry.data.holdPoint,
        );
        return;
      case 'step.reopened':
        this.#end(entry.data.track, at, 'reopened');
        return;
      case 'step.skipped':
        this.#end(entry.data.track, at, 'skipped');
        this.#mark(
          'skip',
          at,
          entry.data.track,
          `${this.#title(entry.data.step)}: ${entry.data.reason}`,
        );
        return;
      case 'group.finished':
        this.#end(entry.data.track, at, 'left');
        return;
      case 'loop.repeated':
        this.#mark(
          'loop',
          at,
          this.#place.get(entry.data.to)?.track ?? null,
          this.#title(entry.data.to),
        );
        return;
      case 'clock.held':
        this.#holds.push({ reason: entry.data.reason, from: at, to: null });
        return;
      case 'clock.resumed':
        this.#endHold(at);
        return;
      case 'override.granted':
        this.#mark('override', at, null, entry.data.missing.join(', '), entry.data.holdPoint);
        return;
      case 'order.refused':
        if (entry.data.holdPoint) this.#mark('refusal', at, null, '', entry.data.holdPoint);
        return;
      case 'run.resumed':
        this.#mark('restart', at, null, '');
        return;
      case 'milestone.reached':
        this.#mark('milestone', at, null, entry.data.milestone);
        return;
      default:
        return; // Facts that neither begin nor end anything.
    }
  }

  result(): CaseTimes {
    return {
      openedAt: this.#openedAt,
      closedAt: this.#closedAt,
      steps: this.#steps,
      clockHolds: this.#holds,
      marks: this.#marks,
    };
  }

  #begin(track: TrackId, step: StepId, from: Stamp): void {
    const place = this.#place.get(step);
    if (!place) return;
    const round = (this.#rounds.get(step) ?? 0) + 1;
    this.#rounds.set(step, round);
    const span = { track, phase: place.phase, step, round, from, to: null, ending: null };
    this.#steps.push(span);
    this.#open.set(track, span);
  }

  #end(track: TrackId, to: Stamp, ending: NonNullable<StepSpan['ending']>): void {
    const span = this.#open.get(track);
    if (!span) return;
    span.to = to;
    span.ending = ending;
    this.#open.delete(track);
  }

  #endHold(to: Stamp): void {
    const hold = this.#holds.at(-1);
    if (hold && !hold.to) hold.to = to;
  }

  #mark(
    kind: Mark['kind'],
    at: Stamp,
    track: TrackId | null,
    text: string,
    holdPoint: HoldPointId | null = null,
  ): void {
    this.#marks.push({ kind, at, track, holdPoint, text });
  }

  #title(step: StepId): string {
    return this.#place.get(step)?.title ?? step;
  }
}
