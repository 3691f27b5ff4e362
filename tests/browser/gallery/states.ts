/** Every state of the wall by name, and the words that lead to it. */
import { asId, err, fault } from '../../../src/domain';
import type { CheckAnswer, Fault, Order } from '../../../src/domain';
import wholeOperation from '../../../src/procedure/library/reverse-shoulder.json';
import { createMemoryStore } from '../../../src/record';
import type { EarStatus } from '../../../src/ui/services';
import { openSampleCase, WHOLE_CASE } from '../../support/sample-case';
import type { SampleCase } from '../../support/sample-case';
import { walkTo } from '../../support/walk-case';
import { openLongestCase } from './longest';

export const LISTENING: EarStatus = {
  state: 'listening',
  fault: null,
  levelDb: -48,
  reading: { levelDb: -48, roomDb: -58, speechDb: -24, gainDb: 0, quality: 'well' },
  isGated: false,
  isShut: false,
};

const LOUD_ROOM: EarStatus = {
  ...LISTENING,
  reading: { levelDb: -24, roomDb: -30, speechDb: -24, gainDb: 0, quality: 'loud-room' },
};

export interface StateSpec {
  /** Words said before the wall is shown. */
  readonly say?: readonly string[];
  /** Orders from the desk after the words. */
  readonly desk?: readonly Order[];
  /** Words said while the wall is shown. */
  readonly last?: readonly (string | null)[];
  readonly ear?: EarStatus;
  readonly storageFault?: Fault;
  readonly options?: Parameters<typeof openSampleCase>[0];
  readonly isUnsaved?: boolean;
  readonly open?: () => Promise<SampleCase>;
  readonly isIdle?: boolean;
  /** The step of the whole operation that is in hand before anything is said. */
  readonly walk?: string;
}

/** The words of the whole case up to, not including, the given phrase (its nth use). */
function until(phrase: string, nth = 1): readonly string[] {
  let seen = 0;
  const end = WHOLE_CASE.findIndex((words) => words === phrase && ++seen === nth);
  if (end < 0) throw new Error(`The whole case never says "${phrase}"`);
  return WHOLE_CASE.slice(0, end);
}

const deaf = (state: EarStatus['state'], code: Fault['code'] | null): EarStatus => ({
  state,
  fault: code && fault(code),
  levelDb: null,
  reading: null,
  isGated: false,
  isShut: false,
});

/** Answers to the first lines of a checklist of the whole operation. */
function answers(step: 'time-out' | 'sign-out', given: readonly CheckAnswer[]): readonly Order[] {
  const { tracks } = wholeOperation as unknown as {
    tracks: { phases: { steps: { id?: string; checklist?: { id: string }[] }[] }[] }[];
  };
  const lines = tracks
    .flatMap(({ phases }) => phases.flatMap(({ steps }) => steps))
    .find(({ id }) => id === step)?.checklist;
  return given.flatMap((answer, index): Order[] => {
    const item = lines?.[index]?.id;
    return item ? [{ type: 'check.answer', step: asId(step), item: asId(item), answer }] : [];
  });
}

function count(id: string, item: string, value: number): Order {
  return { type: 'count.record', count: asId(id), item: asId(item), value };
}

/** At the depth gauge, before anybody has asked for the baseplate. */
const atDepth = until('insert baseplate');
const real = { mode: 'real', side: 'left' } as const;

export const STATES: Readonly<Record<string, StateSpec>> = {
  idle: { isIdle: true, ear: deaf('off', null) },
  start: { options: real },
  step: { say: [...until('step done', 4), '+75'], options: real },
  'want-few': { say: until('wedge two four'), options: real },
  'want-number': { say: atDepth, options: real },
  'want-nine': { say: until('length two six'), options: real },
  'want-clock': { say: until('direction ten thirty'), options: real },
  'want-choice': { say: until('trial still rocks'), options: real },
  'want-report': { say: until('pin out'), options: real },
  'want-more-screws': { say: until('no more screws'), options: real },
  'two-wanted': { say: [...until('plate small')], options: real },
  'read-back': { say: [...atDepth, 'depth two four', '+4'], options: real },
  'read-back-differs': { say: [...atDepth, 'depth two eight', '+7'], options: real },
  'read-back-choice': { say: [...until('screw non locking'), 'screw non locking', '+2'] },
  'read-back-clock': { say: [...until('direction ten thirty'), 'direction nine thirty', '+3'] },
  'read-back-report': { say: [...until('pin out'), 'pin out', '+5'], options: real },
  'read-back-table': { say: [...until('post two four'), 'post two four', '+1'], options: real },
  lapsed: { say: [...atDepth, 'depth two four'], last: ['+12', '+2'], options: real },
  refused: { say: [...atDepth, 'insert baseplate', '+2'], options: real },
  'refused-before': { say: [...atDepth, 'insert baseplate', '+20'], options: real },
  'refused-post': { say: [...until('post two four'), 'post two eight', '+2'], options: real },
  held: { say: [...until('reamer ready'), 'direction ten thirty', 'confirm', '+30'], options: real },
  ready: { say: until('insert baseplate', 2), options: real },
  'clock-held': { say: [...atDepth, 'hold for imaging', '+130'], options: real },
  muted: { say: [...atDepth, 'mute voice'], options: real },
  quiet: { say: ['+90'], options: real },
  'ear-off': { say: atDepth, ear: deaf('off', null), options: real },
  'ear-starting': { say: atDepth, ear: deaf('starting', null), options: real },
  'ear-lost': { say: atDepth, ear: deaf('lost', 'microphone-lost'), options: real },
  'ear-failed': { say: atDepth, ear: deaf('failed', 'listener-failed'), options: real },
  'ear-refused': { say: atDepth, ear: deaf('failed', 'microphone-refused'), options: real },
  'ear-refused-marks': { say: [...atDepth, 'mute voice'], ear: deaf('failed', 'microphone-refused'), isUnsaved: true, options: real },
  'ear-muted': { say: atDepth, ear: deaf('lost', 'microphone-muted'), options: real },
  'ear-badly': { say: atDepth, ear: LOUD_ROOM, options: real },
  'ear-gated': { say: atDepth, ear: { ...LISTENING, isGated: true }, options: real },
  'ear-hears': { say: atDepth, ear: { ...LISTENING, state: 'hearing' }, options: real },
  'not-understood': { say: atDepth, last: [null], options: real },
  'not-now': { say: atDepth, last: ['taper checked'], options: real },
  unsaved: { say: atDepth, isUnsaved: true, options: real },
  'no-disk': { say: atDepth, storageFault: fault('record-unavailable'), options: real },
  rehearsal: { say: atDepth, options: { mode: 'rehearsal' } },
  demo: { say: [...atDepth, '+400'] },
  overridden: {
    say: until('insert baseplate', 1),
    desk: [
      { type: 'override.request', holdPoint: asId('baseplate'), reason: 'Depth read on the scan' },
      { type: 'override.confirm' },
    ],
    options: real,
  },
  'override-asked': {
    say: until('insert baseplate', 1),
    desk: [
      { type: 'override.request', holdPoint: asId('baseplate'), reason: 'Depth read on the scan' },
    ],
    options: real,
  },
  skipped: {
    say: until('step done', 2),
    desk: [{ type: 'step.skip', track: asId('field'), reason: 'Bone was bare' }],
    options: real,
  },
  'went-back': { say: [...until('post two four'), 'go back'], options: real },
  late: { say: [...atDepth, '+900'], options: real },
  complete: { say: WHOLE_CASE, options: real },
  closed: { say: WHOLE_CASE, desk: [{ type: 'case.close', outcome: 'finished' }], options: real },
  checklist: { walk: 'sign-in', options: real },
  'checklist-half': { walk: 'time-out', desk: answers('time-out', ['yes', 'no', 'not-applicable', 'yes']), options: real },
  'checklist-done': { walk: 'time-out', desk: answers('time-out', Array<CheckAnswer>(7).fill('yes')), options: real },
  'checklist-out': { walk: 'sign-out', desk: answers('sign-out', ['yes']), options: real },
  'count-first': { walk: 'patient-in', options: real, desk: [{ type: 'step.finish', track: asId('table') }] },
  'count-closure': { walk: 'count-closure', options: real },
  'count-differs': { walk: 'count-closure', desk: [count('closure', 'swabs', 19), count('closure', 'sharps', 8)], options: real },
  'count-agrees': { walk: 'count-closure', desk: [count('closure', 'swabs', 20), count('closure', 'sharps', 8), count('closure', 'tools', 64)], options: real },
  'relief-due': { walk: 'open-interval', desk: [{ type: 'role.handOver', role: asId('scrub'), label: 'scrub B' }], options: real },
  'timers-run': { walk: 'drape', say: ['+60'], options: real },
  'timer-due': { walk: 'drape', say: ['+190', 'image taken', 'image taken'], options: real },
  'timer-due-later': { walk: 'broach-canal', say: ['+14000'], options: real },
  'open-ahead': { walk: 'ream', options: real },
  'other-ways': { walk: 'clear-cartilage', options: real },
  changing: { walk: 'drill-post', desk: [{ type: 'capture.change', capture: asId('depth') }], options: real },
  'in-doubt': { walk: 'drill-post', desk: [
    { type: 'capture.change', capture: asId('wedge') },
    { type: 'capture.offer', capture: asId('wedge'), value: 8 },
    { type: 'capture.confirm' },
  ], options: real },
  warned: { walk: 'take-stem', desk: [{ type: 'capture.offer', capture: asId('final-stem'), value: 10 }], options: real },
  'yes-no': { walk: 'settle-drain', options: real },
  quantity: { walk: 'wash', options: real },
  'undone': { walk: 'broach-canal', desk: [{ type: 'order.undo' }], options: real },
  'longest-start': { open: openLongestCase },
  'longest-want': { open: openLongestCase, say: ['step done'] },
  'longest-read-back': { open: openLongestCase, say: ['step done', 'w three eight', '+3'] },
  'longest-choice': { open: openLongestCase, say: ['step done', 'w three eight', 'confirm'] },
  'longest-report': { open: openLongestCase, say: ['step done', 'w three eight', 'confirm', 'choice second', 'confirm', 'report made', '+3'] },
  'longest-held': { open: openLongestCase, say: ['step done', 'w three eight', 'confirm', 'choice second', 'confirm', 'report made', 'confirm'] },
  'longest-refused': { open: openLongestCase, say: ['go on with it', '+2'] },
}; // prettier-ignore

/** Brings a case to a state; `last` is to be called when the wall is up. */
export async function reachState(name: string): Promise<{
  sample: SampleCase | null;
  frame: Pick<StateSpec, 'ear' | 'storageFault'>;
  last: (() => Promise<void>) | null;
}> {
  const spec = STATES[name];
  if (!spec) throw new Error(`The gallery has no state "${name}"`);
  if (spec.isIdle) return { sample: null, frame: spec, last: null };
  const memory = createMemoryStore();
  let isFull = false;
  const store = {
    ...memory,
    append: (...args: Parameters<typeof memory.append>) =>
      isFull
        ? Promise.resolve(err(fault('record-append-failed', { count: '3', seq: '40' })))
        : memory.append(...args),
  };
  const procedure = spec.walk === undefined ? {} : { procedure: 'reverse-shoulder' };
  const sample = await (spec.open?.() ?? openSampleCase({ ...spec.options, ...procedure, store }));
  if (spec.walk !== undefined) await walkTo(sample, spec.walk);
  await sample.say(...(spec.say ?? []));
  for (const order of spec.desk ?? []) await sample.session.submit(order, 'desk');
  if (spec.isUnsaved) {
    isFull = true;
    await sample.say('voice on', 'mute voice');
  }
  const { last } = spec;
  return { sample, frame: spec, last: last ? () => sample.say(...last) : null };
}
