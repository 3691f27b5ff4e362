/**
 * The look back: durations, the timing table and its files, as folds over entries.
 * Pure. Knows ids and titles (an Outline), not the procedure's rules.
 */
export { foldTimes, spanElapsed } from './durations';
export type { CaseTimes, ClockHoldSpan, Mark, StepSpan } from './durations';
export { tabulatePhases } from './phase-times';
export type { PhaseRow } from './phase-times';
