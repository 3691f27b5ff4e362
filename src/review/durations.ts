/**
 * Folds the entries of a case into spans of time: what was done, waited for or
 * held, from when to when. Durations come from the monotonic clock inside a run;
 * a span that crosses a restart says that it was estimated from the wall clock.
 */
import { elapsedBetween } from '../domain';
import type { Elapsed, Entry, Outline, PhaseId, Stamp, StepId, TrackId } from '../domain';
import { CaseMarks } from './case-marks';
import type { Mark } from './case-marks';
import { StepSpans } from './step-spans';
import type { Moment, StepSpan } from './step-spans';

/** A stretch in which the clock was held by order, with its reason. */
export interface ClockHoldSpan {
  readonly reason: string;
  readonly from: Stamp;
  readonly to: Stamp | null;
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
  readonly #steps = new StepSpans();
  readonly #marks: CaseMarks;
  readonly #holds: Writable<ClockHoldSpan>[] = [];
  readonly #place = new Map<StepId, { track: TrackId; phase: PhaseId; title: string }>();

  constructor(outline: Outline) {
    for (const phase of outline.phases) {
      for (const { id, title } of phase.steps) {
        this.#place.set(id, { track: phase.track, phase: phase.id, title });
      }
    }
    this.#marks = new CaseMarks(
      (step) => this.#place.get(step) ?? { track: null, title: step },
      outline.captures,
    );
  }

  take(entry: Entry): void {
    this.#marks.take(entry);
    const at: Stamp = { at: entry.at, mono: entry.mono, run: entry.run };
    switch (entry.type) {
      case 'case.opened':
        this.#openedAt = at;
        return;
      case 'case.closed':
        this.#closedAt = at;
        this.#endHold(at);
        break;
      case 'clock.held':
        this.#holds.push({ reason: entry.data.reason, from: at, to: null });
        return;
      case 'clock.resumed':
        this.#endHold(at);
        return;
      default:
    }
    this.#moveSteps(entry, { ...at, seq: entry.seq });
  }

  result(): CaseTimes {
    return {
      openedAt: this.#openedAt,
      closedAt: this.#closedAt,
      steps: this.#steps.list,
      clockHolds: this.#holds,
      marks: this.#marks.list,
    };
  }

  #moveSteps({ type, data }: Entry, at: Moment): void {
    switch (type) {
      case 'step.begun': {
        const place = this.#place.get(data.step);
        if (place)
          this.#steps.begin({ track: data.track, phase: place.phase, step: data.step }, at);
        return;
      }
      case 'step.finished':
        return this.#steps.end(data.track, at, 'finished');
      case 'step.held':
        return this.#steps.end(data.track, at, 'held');
      case 'step.reopened':
        return this.#steps.end(data.track, at, 'reopened');
      case 'step.skipped':
        return this.#steps.end(data.track, at, 'skipped');
      case 'step.leftOut':
        return this.#steps.end(data.track, at, 'leftOut', data.step);
      case 'group.finished':
        return this.#steps.end(data.track, at, 'left');
      case 'track.moved':
        return this.#steps.end(data.track, at, 'moved');
      case 'order.undone':
        return this.#steps.takeBack(data.since);
      case 'case.closed':
        return this.#steps.endAll(at, 'closed');
      default:
        return; // Facts that neither begin nor end anything.
    }
  }

  #endHold(to: Stamp): void {
    const hold = this.#holds.at(-1);
    if (hold && !hold.to) hold.to = to;
  }
}
