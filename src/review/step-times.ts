/** The steps under each phase of the timing table: how often, how long, how they ended. */
import type { Outline, PhaseId, Stamp, StepId, TrackId } from '../domain';
import { spanElapsed } from './durations';
import type { CaseTimes } from './durations';
import type { StepSpan } from './step-spans';

/** One row of a step. Durations in milliseconds. */
export interface StepRow {
  readonly track: TrackId;
  readonly phase: PhaseId;
  readonly step: StepId;
  readonly title: string;
  readonly from: Stamp;
  readonly workMs: number;
  readonly rounds: number;
  /** How the last round ended; null while it is in hand. */
  readonly ending: StepSpan['ending'];
  readonly isEstimated: boolean;
}

/** Rows in the order of the outline; steps that never began are left out. */
export function tabulateSteps(times: CaseTimes, outline: Outline, now: Stamp): readonly StepRow[] {
  const end = times.closedAt ?? now;
  return outline.phases.flatMap(({ id: phase, track, steps }) =>
    steps.flatMap(({ id, title }): StepRow[] => {
      const spans = times.steps.filter(({ step }) => step === id);
      const [first] = spans;
      if (!first) return [];
      const parts = spans.map((span) => spanElapsed(span, end));
      return [
        {
          track,
          phase,
          step: id,
          title,
          from: first.from,
          workMs: parts.reduce((total, { ms }) => total + ms, 0),
          rounds: spans.length,
          ending: spans.at(-1)?.ending ?? null,
          isEstimated: parts.some(({ isEstimated }) => isEstimated),
        },
      ];
    }),
  );
}
