/**
 * Reads a procedure file: first its shape (the schema), then its meaning across
 * the file. A procedure that passes can be compiled and run. Each finding says
 * where, what was expected and what was found.
 */
import * as v from 'valibot';
import { err, ok } from '../../domain';
import type { Result } from '../../domain';
import { expandProcedure } from '../expand';
import { ProcedureSchema } from '../format';
import type { Procedure } from '../format';
import { checkAlternatives } from './alternatives';
import { checkAround } from './around';
import { checkCaptures } from './captures';
import { findDoubles } from './finding';
import type { Finding } from './finding';
import { checkHoldPoints } from './hold-points';
import { checkSteps } from './steps';
import { checkTexts } from './texts';

export type { Finding } from './finding';

/** Checks unknown data; the value is a procedure that can be run. */
export function checkProcedure(data: unknown): Result<Procedure, readonly Finding[]> {
  const parsed = v.safeParse(ProcedureSchema, data);
  if (!parsed.success) return err(parsed.issues.map(toFinding));
  const findings = checkMeaning(parsed.output);
  return findings.length > 0 ? err(findings) : ok(parsed.output);
}

function toFinding(issue: v.BaseIssue<unknown>): Finding {
  return {
    path: v.getDotPath(issue) ?? '(file)',
    expected: issue.expected ?? issue.message,
    received: issue.received,
  };
}

function checkMeaning(procedure: Procedure): readonly Finding[] {
  const expanded = expandProcedure(procedure);
  const doubles = [
    ...findDoubles('tracks', idsOf(procedure.tracks)),
    ...findDoubles('steps', idsOf(expanded.steps)),
    ...findDoubles('captures', idsOf([...expanded.captures, ...procedure.derived])),
    ...findDoubles('holdPoints', idsOf(expanded.holdPoints)),
    ...findDoubles('roles', idsOf(procedure.roles)),
    ...findDoubles('instruments', idsOf(procedure.instruments)),
    ...findDoubles('constraints', idsOf(procedure.constraints)),
    ...findDoubles('timers', idsOf(procedure.timers)),
    ...findDoubles('tallies', idsOf(procedure.tallies)),
    ...findDoubles('countItems', idsOf(procedure.countItems)),
    ...findDoubles('counts', idsOf(procedure.counts)),
  ];
  // Names that stand for two things make every other finding a guess.
  if (doubles.length > 0) return doubles;
  return [
    ...checkAlternatives(procedure, expanded),
    ...checkSteps(procedure, expanded),
    ...checkCaptures(procedure, expanded),
    ...checkHoldPoints(procedure, expanded),
    ...checkAround(procedure, expanded),
    ...checkTexts(procedure, expanded),
  ];
}

function idsOf(items: readonly { readonly id: string }[]): readonly string[] {
  return items.map(({ id }) => id);
}
