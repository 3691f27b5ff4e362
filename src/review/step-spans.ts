/**
 * Which step was in hand on each track, from when to when. At most one a track at a
 * time. A last order that was taken back gives back what was in hand before it: what it
 * had begun is gone, and what it had ended goes on as if it had never been ended.
 */
import type { PhaseId, Stamp, StepId, TrackId } from '../domain';

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
  /** `left`: its group was ended; `leftOut`: it was optional; `moved`: another way was taken. */
  readonly ending:
    'finished' | 'reopened' | 'held' | 'skipped' | 'left' | 'leftOut' | 'moved' | 'closed' | null;
}

type Writable<T> = { -readonly [K in keyof T]: T[K] };
/** A moment with the position of its entry in the record. */
export type Moment = Stamp & { readonly seq: number };

/** Takes what begins and ends, entry by entry. */
export class StepSpans {
  readonly #spans: Writable<StepSpan>[] = [];
  /** The entries that began and ended each span; in the same order. */
  readonly #entries: { begun: number; ended: number | null }[] = [];
  readonly #rounds = new Map<StepId, number>();

  get list(): readonly StepSpan[] {
    return this.#spans;
  }

  begin(place: Pick<StepSpan, 'track' | 'phase' | 'step'>, { seq, ...from }: Moment): void {
    const round = (this.#rounds.get(place.step) ?? 0) + 1;
    this.#rounds.set(place.step, round);
    this.#spans.push({ ...place, round, from, to: null, ending: null });
    this.#entries.push({ begun: seq, ended: null });
  }

  /** Ends what is in hand on a track, if anything is; with `step`, only that one. */
  end(
    track: TrackId,
    { seq, ...to }: Moment,
    ending: NonNullable<StepSpan['ending']>,
    step?: StepId,
  ): void {
    const index = this.#spans.findLastIndex((span) => span.track === track);
    const span = this.#spans[index];
    const entries = this.#entries[index];
    if (!span || !entries || span.to || (step !== undefined && span.step !== step)) return;
    span.to = to;
    span.ending = ending;
    entries.ended = seq;
  }

  /** Ends whatever is in hand. */
  endAll(at: Moment, ending: NonNullable<StepSpan['ending']>): void {
    for (const track of new Set(this.#spans.map((span) => span.track))) this.end(track, at, ending);
  }

  /** What stood before the entry `since` is in hand again. */
  takeBack(since: number): void {
    while ((this.#entries.at(-1)?.begun ?? -1) >= since) {
      this.#entries.pop();
      const gone = this.#spans.pop();
      if (gone) this.#rounds.set(gone.step, gone.round - 1);
    }
    for (const [index, entries] of this.#entries.entries()) {
      const span = this.#spans[index];
      if (!span || entries.ended === null || entries.ended < since) continue;
      entries.ended = span.to = span.ending = null;
    }
  }
}
