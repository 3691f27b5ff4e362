/**
 * Reads a procedure file: first its shape (the schema), then its meaning across
 * the file. A procedure that passes can be compiled and run. Each finding says
 * where, what was expected and what was found.
 */
import * as v from 'valibot';
import { err, ok } from '../../domain';
import type { Result } from '../../domain';
import { expandProcedure } from '../expand';
import type { Expanded } from '../expanded';
import { ProcedureSchema } from '../format';
import type { Procedure } from '../format';
import { checkAlternatives } from './alternatives';
import { checkAround } from './around';
import { checkCaptures } from './captures';
import { findDoubles, found } from './finding';
import type { Finding } from './finding';
import { checkHoldPoints } from './hold-points';
import { checkWritable, checkSize } from './size';
import { checkSpoken } from './spoken';
import { checkSteps } from './steps';
import { checkTexts } from './texts';

/** A file's data as far as it could be read, and everything found in it. */
export interface Reading {
  /** Null where something fatal was found. */
  readonly procedure: Procedure | null;
  readonly findings: readonly Finding[];
}

/** Checks unknown data; the value is a procedure that can be run. */
export function checkProcedure(data: unknown): Result<Procedure, readonly Finding[]> {
  const { procedure, findings } = readProcedure(data);
  return procedure ? ok(procedure) : err(findings);
}

/** The same, with the remarks on a file that can be run. */
export function readProcedure(data: unknown): Reading {
  const parsed = v.safeParse(ProcedureSchema, data);
  if (!parsed.success) return { procedure: null, findings: parsed.issues.map(toFinding) };
  const findings = checkMeaning(parsed.output);
  const isFatal = findings.some((finding) => finding.isFatal);
  return { procedure: isFatal ? null : parsed.output, findings };
}

/** How many times today's limits may a record exceed? Room for every limit there has been; more is no operation. */
const TIMES_FOR_RECORDS = 10;

/**
 * Reads the procedure that a record carries: what was once run is not judged anew. Only
 * its shape, what could not be written out, and names that stand for two things are
 * reasons not to take it.
 */
export function readRecordedProcedure(data: unknown): Reading {
  const parsed = v.safeParse(ProcedureSchema, data);
  if (!parsed.success) return { procedure: null, findings: parsed.issues.map(toFinding) };
  const sizes = checkWritable(parsed.output, TIMES_FOR_RECORDS);
  const findings =
    sizes.length > 0 ? sizes : checkDoubles(parsed.output, expandProcedure(parsed.output));
  return { procedure: findings.length > 0 ? null : parsed.output, findings };
}

function toFinding(issue: v.BaseIssue<unknown>): Finding {
  return found(
    'shape',
    v.getDotPath(issue) ?? '(file)',
    issue.expected ?? issue.message,
    issue.received,
  );
}

function checkMeaning(procedure: Procedure): readonly Finding[] {
  const sizes = checkSize(procedure);
  if (sizes.length > 0) return sizes;
  const expanded = expandProcedure(procedure);
  const doubles = checkDoubles(procedure, expanded);
  // Names that stand for two things make every other finding a guess.
  if (doubles.length > 0) return doubles;
  return [
    ...checkAlternatives(procedure, expanded),
    ...checkSteps(procedure, expanded),
    ...checkCaptures(procedure, expanded),
    ...checkHoldPoints(procedure, expanded),
    ...checkAround(procedure, expanded),
    ...checkTexts(procedure, expanded),
    ...checkSpoken(procedure, expanded),
  ];
}

function checkDoubles(procedure: Procedure, expanded: Expanded): readonly Finding[] {
  return [
    ...findDoubles('id-twice', 'tracks', idsOf(procedure.tracks)),
    ...findDoubles('id-twice', 'steps', idsOf(expanded.steps)),
    ...findDoubles('id-twice', 'captures', idsOf([...expanded.captures, ...procedure.derived])),
    ...findDoubles('id-twice', 'holdPoints', idsOf(expanded.holdPoints)),
    ...findDoubles('id-twice', 'roles', idsOf(procedure.roles)),
    ...findDoubles('id-twice', 'instruments', idsOf(procedure.instruments)),
    ...findDoubles('id-twice', 'constraints', idsOf(procedure.constraints)),
    ...findDoubles('id-twice', 'timers', idsOf(procedure.timers)),
    ...findDoubles('id-twice', 'tallies', idsOf(procedure.tallies)),
    ...findDoubles('id-twice', 'countItems', idsOf(procedure.countItems)),
    ...findDoubles('id-twice', 'counts', idsOf(procedure.counts)),
  ];
}

function idsOf(items: readonly { readonly id: string }[]): readonly string[] {
  return items.map(({ id }) => id);
}
