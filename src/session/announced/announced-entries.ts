/** What the wall says about each kind of entry; nothing where it is not listed. */
import type { Announcement, AnnouncementSubject, Entry, FactOf, FactType } from '../../domain';
import { contextOf } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import { answer } from './announced-answers';
import { fillSegments, readBackSegments, SAID } from './announced-segments';
import type { CaseFacts } from '../case-facts';
import { isSaidAgain } from '../refused-orders';

type Data<T extends FactType> = FactOf<T>['data'];
type Say<T extends FactType> = (
  data: Data<T>,
  compiled: CompiledProcedure,
  facts: CaseFacts,
) => Announcement | null;

/** What was just done or asked. */
const MOMENT: AnnouncementSubject = { kind: 'moment' };

const SPOKEN: { readonly [T in FactType]?: Say<T> } = {
  'capture.offered': ({ capture: id, value }, compiled) => {
    const capture = compiled.captures.get(id);
    if (!capture) return null;
    return {
      priority: 'read-back',
      earcon: 'asks',
      segments: [...readBackSegments(capture, value), SAID.right],
      about: { kind: 'read-back', capture: id, value, isQuestioned: false },
    };
  },
  // Heard and done: the size stands on the wall, a sound is enough.
  'capture.confirmed': () => ({
    priority: 'read-back',
    earcon: 'taken',
    segments: [],
    about: MOMENT,
  }),
  'capture.lapsed': ({ capture }, compiled) => {
    const label = compiled.captures.get(capture)?.label ?? '';
    return {
      priority: 'read-back',
      earcon: 'not-yet',
      segments: [label, SAID.notRecorded],
      about: { kind: 'unsettled', captures: [capture] },
    };
  },
  'capture.questioned': ({ capture, value, constraints }, { procedure }) => {
    const broken = procedure.constraints.filter(({ id }) => constraints.some((it) => it === id));
    return {
      priority: 'read-back',
      earcon: 'asks',
      segments: [...broken.map((constraint) => constraint.broken), SAID.still],
      about: { kind: 'read-back', capture, value, isQuestioned: true },
    };
  },
  'capture.reopened': ({ capture }, compiled) => {
    const label = compiled.captures.get(capture)?.label ?? '';
    return {
      priority: 'answer',
      segments: [label, SAID.again],
      about: { kind: 'unsettled', captures: [capture] },
    };
  },
  'capture.doubted': ({ captures }, compiled) => {
    const labels = captures.map((id) => compiled.captures.get(id)?.label ?? '');
    return {
      priority: 'hold-point',
      earcon: 'not-yet',
      segments: [SAID.inDoubt, ...labels],
      about: { kind: 'unsettled', captures },
    };
  },
  'count.recorded': ({ item, value, expected }, { procedure }) => {
    if (expected === null || value === expected) return null;
    const label = procedure.countItems.find(({ id }) => id === item)?.label ?? '';
    return {
      priority: 'hold-point',
      earcon: 'not-yet',
      segments: [label, SAID.differs],
      about: { kind: 'count', item },
    };
  },
  'timer.due': ({ timer }, { procedure }) => {
    const remind = procedure.timers.find(({ id }) => id === timer)?.remind;
    return remind
      ? { priority: 'reminder', segments: [remind], about: { kind: 'timer', timer } }
      : null;
  },
  'alternative.chosen': ({ alternative }, compiled) => {
    const label = compiled.alternatives.get(alternative)?.label;
    return label ? say(label) : null;
  },
  'role.handedOver': (_, __, { state }) =>
    contextOf(state).isReliefDue
      ? { priority: 'reminder', segments: [SAID.relief], about: MOMENT }
      : null,
  'order.undone': () => say(SAID.undone),
  'step.begun': ({ step: id }, compiled, { state }) => {
    const step = compiled.steps.get(id);
    if (!step) return null;
    const prefix = step.track === compiled.tracks[0] ? [] : [SAID.backTable];
    const cue = fillSegments(compiled, step.cue, contextOf(state));
    return { priority: 'cue', segments: [...prefix, ...cue], about: { kind: 'step', step: id } };
  },
  'loop.repeated': ({ from }, compiled) => {
    const title = compiled.steps.get(from)?.loop?.title;
    return title ? say(title) : null;
  },
  'order.refused': sayRefusal,
  'clock.held': () => say(SAID.held),
  'clock.resumed': () => say(SAID.resumed),
  'override.granted': () => say(SAID.override),
  'announcer.unmuted': () => say(SAID.voiceOn),
  'question.asked': (asked, compiled, facts) => say(...answer(compiled, facts, asked)),
};

/** An answer to what was just done or asked. */
function say(...segments: readonly string[]): Announcement {
  return { priority: 'answer', segments, about: MOMENT };
}

/** What one entry makes the wall say, given the facts after it; null for nothing. */
export function announceEntry(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entry: Entry,
): Announcement | null {
  // The table's type ties each function to its own data; TypeScript can't follow that through a lookup.
  const make = SPOKEN[entry.type] as Say<FactType> | undefined;
  return make?.(entry.data, compiled, facts) ?? null;
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
    return {
      priority: 'hold-point',
      earcon: 'not-yet',
      segments: [SAID.notYet, ...texts],
      about: { kind: 'hold-point', holdPoint: holdPoint.id },
    };
  }
  if (code === 'constraint-broken') {
    const segments = [params['broken'] ?? SAID.notNow];
    return { priority: 'hold-point', earcon: 'not-yet', segments, about: MOMENT };
  }
  if (isSaidAgain(code)) return say(SAID.again);
  // Talk that is meant for nobody ends here too: the wall must not answer it.
  return code === 'phrase-not-understood' ? null : { ...say(SAID.notNow), earcon: 'not-yet' };
}
