/** What the wall says about each kind of entry; nothing where it is not listed. */
import type { Announcement, Entry, FactOf, FactType } from '../domain';
import { contextOf } from '../procedure';
import type { CompiledProcedure } from '../procedure';
import { answer } from './announced-answers';
import { fillSegments, readBackSegments, SAID } from './announced-segments';
import type { CaseFacts } from './case-facts';

type Data<T extends FactType> = FactOf<T>['data'];
type Say<T extends FactType> = (
  data: Data<T>,
  compiled: CompiledProcedure,
  facts: CaseFacts,
) => Announcement | null;

const SPOKEN: { readonly [T in FactType]?: Say<T> } = {
  'capture.offered': ({ capture: id, value }, compiled) => {
    const capture = compiled.captures.get(id);
    if (!capture) return null;
    return { priority: 'read-back', segments: [...readBackSegments(capture, value), SAID.right] };
  },
  'capture.lapsed': ({ capture }, compiled) => {
    const label = compiled.captures.get(capture)?.label ?? '';
    return { priority: 'read-back', segments: [label, SAID.notRecorded] };
  },
  'capture.questioned': ({ constraints }, { procedure }) => {
    const broken = procedure.constraints.filter(({ id }) => constraints.some((it) => it === id));
    const segments = [...broken.map((constraint) => constraint.broken), SAID.still];
    return { priority: 'read-back', segments };
  },
  'capture.reopened': ({ capture }, compiled) => {
    const label = compiled.captures.get(capture)?.label ?? '';
    return { priority: 'answer', segments: [label, SAID.again] };
  },
  'capture.doubted': ({ captures }, compiled) => {
    const labels = captures.map((id) => compiled.captures.get(id)?.label ?? '');
    return { priority: 'hold-point', segments: [SAID.inDoubt, ...labels] };
  },
  'count.recorded': ({ item, value, expected }, { procedure }) => {
    if (expected === null || value === expected) return null;
    const label = procedure.countItems.find(({ id }) => id === item)?.label ?? '';
    return { priority: 'hold-point', segments: [label, SAID.differs] };
  },
  'timer.due': ({ timer }, { procedure }) => {
    const remind = procedure.timers.find(({ id }) => id === timer)?.remind;
    return remind ? { priority: 'reminder', segments: [remind] } : null;
  },
  'alternative.chosen': ({ alternative }, compiled) => {
    const label = compiled.alternatives.get(alternative)?.label;
    return label ? { priority: 'answer', segments: [label] } : null;
  },
  'role.handedOver': (_, __, { state }) =>
    contextOf(state).isReliefDue ? { priority: 'reminder', segments: [SAID.relief] } : null,
  'order.undone': () => ({ priority: 'answer', segments: [SAID.undone] }),
  'step.begun': ({ step: id }, compiled, { state }) => {
    const step = compiled.steps.get(id);
    if (!step) return null;
    const prefix = step.track === compiled.tracks[0] ? [] : [SAID.backTable];
    const cue = fillSegments(compiled, step.cue, contextOf(state));
    return { priority: 'cue', segments: [...prefix, ...cue] };
  },
  'loop.repeated': ({ from }, compiled) => {
    const title = compiled.steps.get(from)?.loop?.title;
    return title ? { priority: 'answer', segments: [title] } : null;
  },
  'order.refused': sayRefusal,
  'clock.held': () => ({ priority: 'answer', segments: [SAID.held] }),
  'clock.resumed': () => ({ priority: 'answer', segments: [SAID.resumed] }),
  'override.granted': () => ({ priority: 'answer', segments: [SAID.override] }),
  'announcer.unmuted': () => ({ priority: 'answer', segments: [SAID.voiceOn] }),
  'question.asked': (asked, compiled, facts) => ({
    priority: 'answer',
    segments: answer(compiled, facts, asked),
  }),
};

/** What one entry makes the wall say, given the facts after it; null for nothing. */
export function announceEntry(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entry: Entry,
): Announcement | null {
  // The table's type ties each function to its own data; TypeScript can't follow that through a lookup.
  const say = SPOKEN[entry.type] as Say<FactType> | undefined;
  return say?.(entry.data, compiled, facts) ?? null;
}

function sayRefusal(
  { holdPoint: id, code, params, conditions }: Data<'order.refused'>,
  compiled: CompiledProcedure,
  { state }: CaseFacts,
): Announcement | null {
  const holdPoint = id && compiled.holdPoints.get(id);
  if (holdPoint) {
    const missing = holdPoint.needs.filter((_, index) => !conditions[index]?.isMet);
    const texts = missing.flatMap((need) => fillSegments(compiled, need.missing, contextOf(state)));
    return { priority: 'hold-point', segments: [SAID.notYet, ...texts] };
  }
  if (code === 'constraint-broken') {
    return { priority: 'hold-point', segments: [params['broken'] ?? SAID.notNow] };
  }
  if (code === 'phrase-in-doubt') return { priority: 'answer', segments: [SAID.again] };
  return code === 'phrase-not-understood' ? null : { priority: 'answer', segments: [SAID.notNow] };
}
