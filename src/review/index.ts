/**
 * The look back: durations, the timing table and its files, as folds over entries.
 * Pure. Knows ids and titles (an Outline), not the procedure's rules.
 */
export { CaseAxis } from './case-axis';
export type { CaseDigest, PhaseDigest, SpeechDigest } from './digest/case-digest';
export { digestCase } from './digest/digest-case';
export { foldTimes } from './durations';
export type { CaseTimes, ClockHoldSpan, Mark, StepSpan } from './durations';
export { basisToText, EndForecast } from './forecast/settled';
export type { ExpectedEnd } from './forecast/settled';
export { learnTeam } from './forecast/team';
export type { Team } from './forecast/team';
export { listOverrides, listRefusals } from './incidents';
export type { OverrideRow, RefusalRow } from './incidents';
export { listIntervals, listNamedTimes } from './named-times';
export type { IntervalRow, NamedTimeRow } from './named-times';
export { tabulatePhases } from './phase-times';
export type { PhaseRow } from './phase-times';
export { foldSizes } from './size-history';
export type { SizeHistory } from './size-history';
export { tabulateSteps } from './step-times';
export type { StepRow } from './step-times';
export { makeTimeline } from './timeline';
export type { Timeline, TimelineLane, TimelineMark, TimelinePhase, TimelineStep } from './timeline';
export { caseTimesToCsv } from './times-csv';
