/**
 * What the wall says aloud when entries are added: read-backs, why a hold point
 * stops, the next cue, answers. Short, silent when muted and in quiet phases.
 * Pure; playing them is the announcer's business.
 */
import { ANNOUNCEMENT_PRIORITIES, asId, numberToDigitWords } from '../domain';
import type { Announcement, Entry } from '../domain';
import {
  contextOf, derivedNow, deriveValue, isFree, listLegalValues, positionOf, valueToWords,
} from '../procedure'; // prettier-ignore
import type { Capture, CaseContext, CompiledProcedure } from '../procedure';
import type { CaseFacts } from './case-facts';
import { makeTrackView } from './track-view';

const SAID = {
  right: 'Right?',
  notYet: 'Not yet',
  notNow: 'Not now',
  notRecorded: 'not recorded',
  next: 'Next',
  nothing: 'Nothing yet',
  backTable: 'Back table',
  held: 'Clock held',
  resumed: 'Clock runs',
  override: 'Override recorded',
  again: 'Say that again',
  voiceOn: 'Voice on',
  still: 'Still right?',
  undone: 'Taken back',
  inDoubt: 'To be confirmed again',
  relief: 'Relief count due',
  differs: 'Count differs',
} as const;

/** The announcements that new entries call for, given the facts after them. */
export function announce(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entries: readonly Entry[],
): readonly Announcement[] {
  const context = contextOf(facts.state);
  if (context.isMuted || isQuiet(compiled, facts)) return [];
  return mergeByPriority(entries.flatMap((entry) => announceEntry(compiled, facts, entry) ?? []));
}

/** One announcement of each kind: a later one of the same kind would cut the first short. */
function mergeByPriority(announcements: readonly Announcement[]): readonly Announcement[] {
  return ANNOUNCEMENT_PRIORITIES.flatMap((priority) => {
    const same = announcements.filter((announcement) => announcement.priority === priority);
    return same.length > 0
      ? [{ priority, segments: same.flatMap(({ segments }) => segments) }]
      : [];
  });
}

/** Every segment that this procedure can ever need, for the script that makes the clips. */
export function listSegments(compiled: CompiledProcedure): readonly string[] {
  const { procedure } = compiled;
  const steps = [...compiled.steps.values()];
  const captures = [...compiled.captures.values()];
  const needs = [...compiled.holdPoints.values()].flatMap((point) => point.needs);
  const segments = [
    ...Object.values(SAID),
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

function announceEntry(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entry: Entry,
): Announcement | null {
  const context = contextOf(facts.state);
  switch (entry.type) {
    case 'capture.offered': {
      const capture = compiled.captures.get(entry.data.capture);
      if (!capture) return null;
      const segments = [...readBackSegments(capture, entry.data.value), SAID.right];
      return { priority: 'read-back', segments };
    }
    case 'capture.questioned': {
      const { constraints } = entry.data;
      const broken = compiled.procedure.constraints.filter(({ id }) =>
        constraints.some((other) => other === id),
      );
      const segments = [...broken.map((constraint) => constraint.broken), SAID.still];
      return { priority: 'read-back', segments };
    }
    case 'capture.reopened': {
      const label = compiled.captures.get(entry.data.capture)?.label ?? '';
      return { priority: 'answer', segments: [label, SAID.again] };
    }
    case 'capture.doubted': {
      const labels = entry.data.captures.map((id) => compiled.captures.get(id)?.label ?? '');
      return { priority: 'hold-point', segments: [SAID.inDoubt, ...labels] };
    }
    case 'count.recorded': {
      const { item, value, expected } = entry.data;
      if (expected === null || value === expected) return null;
      const label = compiled.procedure.countItems.find(({ id }) => id === item)?.label ?? '';
      return { priority: 'hold-point', segments: [label, SAID.differs] };
    }
    case 'timer.due': {
      const remind = compiled.procedure.timers.find(({ id }) => id === entry.data.timer)?.remind;
      return remind ? { priority: 'reminder', segments: [remind] } : null;
    }
    case 'alternative.chosen': {
      const label = compiled.alternatives.get(entry.data.alternative)?.label;
      return label ? { priority: 'answer', segments: [label] } : null;
    }
    case 'role.handedOver':
      return context.isReliefDue ? { priority: 'reminder', segments: [SAID.relief] } : null;
    case 'order.undone':
      return { priority: 'answer', segments: [SAID.undone] };
    case 'capture.lapsed': {
      const label = compiled.captures.get(entry.data.capture)?.label ?? '';
      return { priority: 'read-back', segments: [label, SAID.notRecorded] };
    }
    case 'step.begun': {
      const step = compiled.steps.get(entry.data.step);
      if (!step) return null;
      const prefix = step.track === compiled.tracks[0] ? [] : [SAID.backTable];
      return {
        priority: 'cue',
        segments: [...prefix, ...fillSegments(compiled, step.cue, context)],
      };
    }
    case 'loop.repeated': {
      const title = compiled.steps.get(entry.data.from)?.loop?.title;
      return title ? { priority: 'answer', segments: [title] } : null;
    }
    case 'order.refused': {
      const holdPoint = entry.data.holdPoint && compiled.holdPoints.get(entry.data.holdPoint);
      const { broken } = entry.data.params;
      if (entry.data.code === 'constraint-broken' && broken) {
        return { priority: 'hold-point', segments: [broken] };
      }
      if (!holdPoint) {
        const isUnclear = entry.data.code === 'phrase-not-understood';
        return isUnclear ? null : { priority: 'answer', segments: [SAID.notNow] };
      }
      const missing = holdPoint.needs.filter((_, index) => !entry.data.conditions[index]?.isMet);
      const texts = missing.flatMap((need) => fillSegments(compiled, need.missing, context));
      return { priority: 'hold-point', segments: [SAID.notYet, ...texts] };
    }
    case 'clock.held':
      return { priority: 'answer', segments: [SAID.held] };
    case 'clock.resumed':
      return { priority: 'answer', segments: [SAID.resumed] };
    case 'override.granted':
      return { priority: 'answer', segments: [SAID.override] };
    case 'announcer.unmuted':
      return { priority: 'answer', segments: [SAID.voiceOn] };
    case 'question.asked':
      return { priority: 'answer', segments: answer(compiled, facts, entry.data.question) };
    default:
      return null;
  }
}

function answer(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  question: string,
): readonly string[] {
  const context = contextOf(facts.state);
  if (question === 'sizes') {
    const sizes = [...compiled.captures.values()].flatMap((capture) => {
      const value = context.confirmed[capture.id];
      return capture.row === undefined || value === undefined
        ? []
        : readBackSegments(capture, value);
    });
    return sizes.length > 0 ? sizes : [SAID.nothing];
  }
  const offered = context.offered && compiled.captures.get(context.offered.capture);
  if (question === 'repeat' && offered && context.offered) {
    return [...readBackSegments(offered, context.offered.value), SAID.right];
  }
  const [main] = compiled.tracks;
  const cue = main && makeTrackView(compiled, facts, main).cues[question === 'next' ? 1 : 0];
  const step = cue && compiled.steps.get(cue.step);
  const segments = step ? fillSegments(compiled, step.cue, context) : [SAID.nothing];
  return question === 'next' ? [SAID.next, ...segments] : segments;
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

function readBackSegments(capture: Capture, value: string | number | null): readonly string[] {
  if (capture.kind === 'report') return [capture.reads];
  // What was typed or scanned is read from the screen.
  return value === null || isFree(capture)
    ? [capture.label]
    : [capture.label, valueToWords(capture, value)];
}

/** A cue's text in pieces: the fixed parts as written, captured and derived values as spoken. */
function fillSegments(
  compiled: CompiledProcedure,
  text: string,
  context: CaseContext,
): readonly string[] {
  const pieces = text.split(/(\{[a-z0-9-]+\})/g).map((piece) => {
    if (!piece.startsWith('{')) return piece.trim();
    const capture = [...compiled.captures.values()].find(({ id }) => `{${id}}` === piece);
    const value = capture && context.confirmed[capture.id];
    if (capture) return value === undefined || isFree(capture) ? '' : valueToWords(capture, value);
    const spec = compiled.procedure.derived.find(({ id }) => `{${id}}` === piece);
    const follows = spec ? derivedNow(spec, context) : null;
    return follows === null ? '' : numberToDigitWords(follows);
  });
  return pieces.filter((piece) => piece !== '' && piece !== '.');
}

function literals(text: string): readonly string[] {
  return text.split(/\{[a-z0-9-]+\}/g).map((piece) => piece.trim());
}

/** Every number that a derived value can be, as the wall says it. */
function derivedWords(
  { captures }: CompiledProcedure,
  spec: CompiledProcedure['procedure']['derived'][number],
): readonly string[] {
  const source = captures.get(asId(spec.from));
  const values = source ? listLegalValues(source) : [];
  return values.flatMap(({ value }) => {
    const follows = deriveValue(spec, value);
    return follows === null ? [] : [numberToDigitWords(follows)];
  });
}
