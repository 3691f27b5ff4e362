/**
 * Many cases as two CSV files: one row a case, one row a phase. Columns are described
 * in docs/review-files.md. Every row carries the mode. Times are UTC to the second, in
 * the form of ISO 8601 that spreadsheets take for a date; durations minutes with three
 * decimals; text can't be run as a formula.
 */
import { MILESTONES, rowsToCsv } from '../../domain';
import type { Milestone } from '../../domain';
import type { CaseDigest } from '../digest/case-digest';
import { countLoops } from '../many/summary';

type Cell = string | number;

/** Columns of the file of cases. Named times follow, one column each. */
export const CASE_COLUMNS = [
  'mode', 'case', 'procedure_id', 'procedure', 'side', 'theatre', 'roles', 'opened_utc', 'closed_utc', 'outcome', 'total_min',
  'estimated', 'loops', 'clock_held_min', 'overrides', 'refused_at_hold_points', 'read_backs', 'confirmed',
  'corrected', 'lapsed', 'voice_cards', 'alternatives', 'entries',
] as const; // prettier-ignore

/** Columns of the file of phases. */
export const PHASE_COLUMNS = [
  'mode', 'case', 'procedure_id', 'opened_utc', 'track', 'phase_id', 'phase', 'start_min', 'total_min', 'work_min',
  'wait_min', 'clock_held_min', 'passes', 'first_pass_min', 'usual_min', 'counted',
] as const; // prettier-ignore

const NAMED = Object.keys(MILESTONES) as Milestone[];

/** One row a case. */
export function casesToCsv(digests: readonly CaseDigest[]): string {
  return rowsToCsv([
    [...CASE_COLUMNS, ...NAMED.map((code) => `${code}_utc`)],
    ...digests.map(caseRow),
  ]);
}

/** One row a phase. */
export function phasesToCsv(digests: readonly CaseDigest[]): string {
  return rowsToCsv([PHASE_COLUMNS, ...digests.flatMap(phaseRows)]);
}

function caseRow(digest: CaseDigest): readonly Cell[] {
  const { readBacks } = digest;
  return [
    digest.mode,
    digest.caseId,
    digest.procedureId,
    digest.procedure,
    digest.side,
    digest.theatre ?? '',
    digest.roles.join('; '),
    toUtc(digest.openedAt),
    toUtc(digest.closedAt),
    digest.outcome ?? '',
    toMinutes(digest.totalMs),
    yesNo(digest.isEstimated),
    countLoops(digest),
    toMinutes(digest.holds.reduce((sum, { ms }) => sum + ms, 0)),
    digest.overrides.length,
    digest.refusedAt.length,
    readBacks.offered,
    readBacks.confirmed,
    readBacks.corrected,
    readBacks.lapsed,
    yesNo(digest.hasVoiceCards),
    digest.alternatives.join('; '),
    digest.entryCount,
    ...NAMED.map((code) => toUtc(digest.named[code] ?? null)),
  ];
}

function phaseRows({
  mode,
  caseId,
  procedureId,
  openedAt,
  phases,
}: CaseDigest): readonly (readonly Cell[])[] {
  return phases.map((phase) => [
    mode,
    caseId,
    procedureId,
    toUtc(openedAt),
    phase.track,
    phase.phase,
    phase.title,
    toMinutes(phase.fromMs),
    toMinutes(phase.totalMs),
    toMinutes(phase.workMs),
    toMinutes(phase.waitMs),
    toMinutes(phase.heldMs),
    phase.passesMs.length,
    toMinutes(phase.passesMs[0] ?? 0),
    phase.usualMs === null ? '' : toMinutes(phase.usualMs),
    yesNo(phase.isWhole),
  ]);
}

/** With a space and without the zone's letter: with them a spreadsheet sees no date, only text. */
function toUtc(at: number | null): string {
  return at === null ? '' : new Date(at).toISOString().slice(0, 19).replace('T', ' ');
}

function toMinutes(ms: number): number {
  return Math.round(ms / 60) / 1000;
}

function yesNo(value: boolean): string {
  return value ? 'yes' : 'no';
}
