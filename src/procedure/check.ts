/**
 * Reads a procedure file: first its shape (the schema), then its meaning across
 * the file. A procedure that passes can be compiled and run. Each finding says
 * where, what was expected and what was found.
 */
import * as v from 'valibot';
import { err, ok } from '../domain';
import type { Result } from '../domain';
import { expandProcedure } from './expand';
import type { Expanded } from './expand';
import { ProcedureSchema } from './format';
import type { Procedure } from './format';
import { isLegalValue } from './values-of';

/** One thing wrong with a procedure file. */
export interface Finding {
  /** Where, as a path into the file: `tracks.0.phases.2.title`. */
  readonly path: string;
  readonly expected: string;
  readonly received: string;
}

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
  return [
    ...findDoubles(
      'tracks',
      procedure.tracks.map(({ id }) => id),
    ),
    ...findDoubles(
      'phases',
      procedure.tracks.flatMap(({ phases }) => phases.map(({ id }) => id)),
    ),
    ...findDoubles(
      'steps',
      expanded.steps.map(({ id }) => id),
    ),
    ...findDoubles(
      'captures',
      expanded.captures.map(({ id }) => id),
    ),
    ...findDoubles(
      'holdPoints',
      expanded.holdPoints.map(({ id }) => id),
    ),
    ...checkSteps(expanded),
    ...checkHoldPoints(expanded),
    ...checkTexts(expanded),
  ];
}

function findDoubles(path: string, ids: readonly string[]): readonly Finding[] {
  return ids
    .filter((id, index) => ids.indexOf(id) !== index)
    .map((id) => ({ path, expected: 'ids that differ', received: `"${id}" twice` }));
}

function checkSteps({ steps, captures }: Expanded): readonly Finding[] {
  const byId = new Map(captures.map((capture) => [capture.id, capture]));
  const taken = steps.flatMap((step) => step.captures);
  return [
    ...findDoubles('steps.captures', taken),
    ...captures
      .filter(({ id }) => !taken.includes(id))
      .map(({ id }) => missing(`captures.${id}`, 'a step that takes it', 'none')),
    ...steps.flatMap((step) => {
      const path = `steps.${step.id}`;
      const unknown = step.captures.filter((id) => !byId.has(id));
      const earlier = steps.filter(({ track }) => track === step.track).map(({ id }) => id);
      const { loop } = step;
      const capture = loop && byId.get(loop.capture);
      return [
        ...unknown.map((id) => missing(`${path}.captures`, 'a capture of this file', id)),
        ...(step.begins === 'said' && !step.say
          ? [missing(`${path}.say`, 'words that begin it', 'none')]
          : []),
        ...(loop && earlier.indexOf(loop.backTo) === -1
          ? [missing(`${path}.loop.backTo`, 'a step of this track', loop.backTo)]
          : []),
        ...(loop && earlier.indexOf(loop.backTo) > earlier.indexOf(step.id)
          ? [missing(`${path}.loop.backTo`, 'an earlier step', loop.backTo)]
          : []),
        ...(loop &&
        !(capture && step.captures.includes(capture.id) && isLegalValue(capture, loop.is))
          ? [
              missing(
                `${path}.loop.when`,
                'a capture of this step and one of its values',
                `${loop.capture} is ${loop.is}`,
              ),
            ]
          : []),
      ];
    }),
  ];
}

function checkHoldPoints({ steps, captures, holdPoints }: Expanded): readonly Finding[] {
  const stepIds = new Set<string>(steps.map(({ id }) => id));
  const byId = new Map<string, Expanded['captures'][number]>(
    captures.map((capture) => [capture.id, capture]),
  );
  const guarded = holdPoints.map(({ guards }) =>
    guards.type === 'step' ? guards.step : guards.capture,
  );
  return [
    ...findDoubles('holdPoints.guards', guarded),
    ...holdPoints.flatMap(({ id, guards, needs }) => {
      const path = `holdPoints.${id}`;
      const isKnown = guards.type === 'step' ? stepIds.has(guards.step) : byId.has(guards.capture);
      const subject = guards.type === 'step' ? guards.step : guards.capture;
      return [
        ...(isKnown ? [] : [missing(`${path}.guards`, `a ${guards.type} of this file`, subject)]),
        ...needs.flatMap((need, index) => {
          const at = `${path}.needs.${index}`;
          if (need.type === 'finished') {
            return stepIds.has(need.step)
              ? []
              : [missing(`${at}.step`, 'a step of this file', need.step)];
          }
          const name = need.type === 'same' ? need.as : need.capture;
          const capture = byId.get(name);
          if (!capture) return [missing(at, 'a capture of this file', name)];
          if (need.type === 'same' && guards.type !== 'capture') {
            return [missing(`${at}.type`, 'a guarded capture to compare', guards.type)];
          }
          return need.type === 'is' && !isLegalValue(capture, need.value)
            ? [missing(`${at}.value`, `a value of "${name}"`, String(need.value))]
            : [];
        }),
      ];
    }),
  ];
}

function checkTexts({ steps, captures }: Expanded): readonly Finding[] {
  const ids = new Set<string>(captures.map(({ id }) => id));
  return steps.flatMap(({ id, detail, cue, title }) =>
    [...`${title} ${detail} ${cue}`.matchAll(/\{([^}]*)\}/g)]
      .map(([, name = '']) => name)
      .filter((name) => !ids.has(name))
      .map((name) => missing(`steps.${id}`, 'a capture in braces', `{${name}}`)),
  );
}

function missing(path: string, expected: string, received: string): Finding {
  return { path, expected, received };
}
