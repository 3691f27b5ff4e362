/**
 * The look back: durations, the timing table and its files, as folds over entries.
 * Pure. Knows ids and titles (an Outline), not the procedure's rules.
 */
export { CaseAxis } from './case-axis';
export { DIGEST_VERSION } from './digest/case-digest';
export type { CaseDigest, PhaseDigest, SpeechDigest } from './digest/case-digest';
export { digestCase } from './digest/digest-case';
export { foldTimes } from './durations';
export type { CaseTimes, ClockHoldSpan, Mark, StepSpan } from './durations';
export { casesToCsv, phasesToCsv } from './export/cases-csv';
export { caseToFhir } from './export/fhir-bundle';
export type { ScannedLabel, SettledSize } from './export/fhir-terms';
export { digestsToJson, mergeDigests, readReviewFile } from './export/review-file';
export { basisToText, EndForecast } from './forecast/settled';
export { StandingFold } from './forecast/standing-fold';
export type { ExpectedEnd } from './forecast/settled';
export { learnTeam } from './forecast/team';
export type { Team } from './forecast/team';
export { listOverrides, listRefusals } from './incidents';
export type { OverrideRow, RefusalRow } from './incidents';
export { chartChange } from './many/change';
export type { ChangeCharts } from './many/change-charts';
export { filterCases, listChoices } from './many/filters';
export type { CaseFilter, FilterChoices } from './many/filters';
export { measureRoom } from './many/room';
export type { RoomUse } from './many/room';
export { makeSeries } from './many/series';
export type { SeriesPoint } from './many/series';
export { summariseCases } from './many/summary';
export type { ManyCases, PhaseSummary } from './many/summary';
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
export { createRandom } from './statistics/random';
export type { Random } from './statistics/random';
export type { ChangeMark } from './statistics/segments';
