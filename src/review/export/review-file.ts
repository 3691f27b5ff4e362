/**
 * Digests as a JSON file for another machine, and back. A file from elsewhere is
 * checked field by field before any of it is believed; cases that are known
 * already are not taken twice.
 */
import * as v from 'valibot';
import { CASE_MODES, err, fault, MILESTONES, ok, SIDES } from '../../domain';
import type { Fault, Milestone, Result } from '../../domain';
import { DIGEST_VERSION } from '../digest/case-digest';
import type { CaseDigest } from '../digest/case-digest';
import type { MarkedChange } from '../many/marked-changes';
import { RoomHoursSchema } from '../many/room-hours';
import type { RoomHours } from '../many/room-hours';

const FORMAT = 'cuewall-review';

const Text = v.pipe(v.string(), v.maxLength(200));
const Ms = v.pipe(v.number(), v.finite(), v.minValue(0));
const At = v.pipe(v.number(), v.finite(), v.minValue(0), v.maxValue(8.64e15));
const Count = v.pipe(v.number(), v.integer(), v.minValue(0));

const Phase = v.object({
  track: Text,
  phase: Text,
  title: Text,
  fromMs: Ms,
  totalMs: Ms,
  workMs: Ms,
  waitMs: Ms,
  heldMs: Ms,
  passesMs: v.array(Ms),
  usualMs: v.nullable(Ms),
  isWhole: v.boolean(),
  ending: v.optional(v.picklist(['done', 'cut', 'open'])),
  isEstimated: v.optional(v.boolean()),
});

const Digest = v.object({
  version: v.pipe(Count, v.minValue(1), v.maxValue(DIGEST_VERSION)),
  caseId: v.pipe(Text, v.minLength(1)),
  mode: v.picklist(CASE_MODES),
  procedureId: Text,
  procedure: Text,
  side: v.picklist(SIDES),
  theatre: v.optional(v.nullable(Text)),
  roles: v.array(Text),
  openedAt: At,
  closedAt: v.nullable(At),
  outcome: v.nullable(Text),
  totalMs: Ms,
  isEstimated: v.boolean(),
  entryCount: Count,
  hasVoiceCards: v.boolean(),
  alternatives: v.array(Text),
  phases: v.array(Phase),
  holds: v.array(v.object({ reason: Text, ms: Ms })),
  overrides: v.array(v.object({ holdPoint: Text, reason: Text })),
  refusedAt: v.array(Text),
  readBacks: v.object({ offered: Count, confirmed: Count, corrected: Count, lapsed: Count }),
  speech: v.array(v.object({ person: Text, phrase: Text, attempts: Count, first: Count })),
  named: v.partial(
    v.object(
      Object.fromEntries(Object.keys(MILESTONES).map((code) => [code, At])) as Record<
        Milestone,
        typeof At
      >,
    ),
  ),
});

/** A marked change: it has no moment of its own in any record. */
const Marked = v.object({
  mode: v.picklist(CASE_MODES),
  procedureId: v.nullable(Text),
  key: v.nullable(Text),
  at: At,
  label: v.pipe(Text, v.minLength(1)),
});

const ReviewFile = v.object({
  format: v.literal(FORMAT),
  version: v.literal(1),
  /** Checked apart (checkCases): there may be many. */
  cases: v.array(v.unknown()),
  /** Files of earlier programs have neither marks nor hours. */
  marks: v.optional(v.array(Marked), []),
  hours: v.optional(v.nullable(RoomHoursSchema), null),
});

/** A file whose cases are not checked yet. */
export type OpenedFile = v.InferOutput<typeof ReviewFile>;

/** Digests, marked changes and, where a team typed them, its resource hours as the text of a file. */
export function digestsToJson(
  digests: readonly CaseDigest[],
  marks: readonly MarkedChange[] = [],
  hours: RoomHours | null = null,
): string {
  return `${JSON.stringify({ format: FORMAT, version: 1, cases: digests, marks, hours })}\n`;
}

/** What the text of a file has, its cases unchecked; the fault is `review-file-unreadable`. */
export function openReviewFile(text: string): Result<OpenedFile, Fault> {
  let data: unknown;
  try {
    data = JSON.parse(text);
  } catch (cause) {
    return unreadable(String(cause));
  }
  const read = v.safeParse(ReviewFile, data);
  return read.success ? ok(read.output) : unreadable(issueToText('', read.issues[0]));
}

/** So many cases of a file from a place on, each checked field by field; the fault is `review-file-unreadable`. */
export function checkCases(
  cases: readonly unknown[],
  from = 0,
  count = cases.length,
): Result<readonly CaseDigest[], Fault> {
  const digests: CaseDigest[] = [];
  for (const [place, value] of cases.slice(from, from + count).entries()) {
    const read = v.safeParse(Digest, value);
    if (!read.success) return unreadable(issueToText(`cases.${from + place}.`, read.issues[0]));
    digests.push(read.output as unknown as CaseDigest);
  }
  return ok(digests);
}

function unreadable(detail: string): Extract<Result<never, Fault>, { ok: false }> {
  return err(fault('review-file-unreadable', { detail }));
}

function issueToText(within: string, issue: v.BaseIssue<unknown>): string {
  return `${within}${v.getDotPath(issue) ?? (within === '' ? 'file' : '')}: ${issue.message}`;
}

/** What is known and what a file brings, each case once. The fuller one of two stands: a case may have been saved before it was closed. */
export function mergeDigests(
  known: readonly CaseDigest[],
  brought: readonly CaseDigest[],
): { readonly digests: readonly CaseDigest[]; readonly added: number; readonly same: number } {
  const byId = new Map(known.map((digest) => [digest.caseId, digest]));
  let added = 0;
  let same = 0;
  for (const digest of brought) {
    const before = byId.get(digest.caseId);
    if (before && before.entryCount >= digest.entryCount) same += 1;
    else {
      byId.set(digest.caseId, digest);
      if (!before) added += 1;
    }
  }
  return { digests: [...byId.values()], added, same };
}
