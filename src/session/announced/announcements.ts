/**
 * What the wall says aloud when entries are added: read-backs, why a hold point
 * stops, the next cue, answers. Short, silent when muted and in quiet phases.
 * Pure; playing them is the announcer's business.
 */
import type { Announcement, Entry } from '../../domain';
import { contextOf, listLegalValues, positionOf } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import { announceEntry } from './announced-entries';
import { planSegments } from './announced-plan';
import { derivedWords, literals, readBackSegments, SAID } from './announced-segments';
import type { CaseFacts } from '../case-facts';

/** The announcements that new entries call for, given the facts after them. */
export function announce(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entries: readonly Entry[],
): readonly Announcement[] {
  const context = contextOf(facts.state);
  if (context.isMuted || isQuiet(compiled, facts)) return [];
  return mergeAlike(entries.flatMap((entry) => announceEntry(compiled, facts, entry) ?? []));
}

/** Announcements about the same are said as one: a later one would take the first one's place. */
function mergeAlike(announcements: readonly Announcement[]): readonly Announcement[] {
  const merged = new Map<string, Announcement>();
  for (const one of announcements) {
    const key = JSON.stringify([one.priority, one.about]);
    const before = merged.get(key);
    const segments = [...(before?.segments ?? []), ...one.segments];
    merged.set(key, before ? { ...before, segments } : one);
  }
  return [...merged.values()];
}

/** Every segment that this procedure can ever need, for the script that makes the clips. */
export function listSegments(compiled: CompiledProcedure): readonly string[] {
  const { procedure } = compiled;
  const steps = [...compiled.steps.values()];
  const captures = [...compiled.captures.values()];
  const needs = [...compiled.holdPoints.values()].flatMap((point) => point.needs);
  const segments = [
    ...Object.values(SAID),
    ...planSegments(compiled),
    ...captures.flatMap((capture) => readBackSegments(capture, null)),
    ...procedure.derived.flatMap((spec) => derivedWords(compiled, spec)),
    ...procedure.constraints.map(({ broken }) => broken),
    ...procedure.timers.map(({ remind }) => remind),
    ...procedure.countItems.map(({ label }) => label),
    ...[...compiled.alternatives.values()].map(({ label }) => label),
    ...captures.flatMap((capture) => listLegalValues(capture).map(({ words }) => words[0] ?? '')),
    ...captures.flatMap(({ label, row }) => [label, row ?? label]),
    ...steps.flatMap(({ cue }) => literals(cue)),
    ...steps.map(({ loop }) => loop?.title ?? ''),
    ...needs.flatMap(({ missing }) => literals(missing)),
  ];
  return [...new Set(segments.map((text) => text.trim()).filter((text) => text !== ''))].sort();
}

function isQuiet(compiled: CompiledProcedure, { state }: CaseFacts): boolean {
  return compiled.tracks.some((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return false;
    return compiled.outline.phases.some(
      (phase) => phase.isQuiet && phase.id === position.step.phase && phase.track === track,
    );
  });
}
