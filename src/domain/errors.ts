/**
 * The one error catalogue. Each code has a text for the person in front of the
 * screen (what happened; is the record safe and what to do now; two short lines)
 * and one for a developer. `{name}` is filled from the parameters.
 * docs/errors.md is generated from this file and a test keeps the two equal.
 */
import { HEARING_ERRORS } from './hearing-errors';
import { IMPLANT_ERRORS } from './implant-errors';
import { RECORD_ERRORS } from './record-errors';
import { RECORDING_ERRORS } from './recording-errors';
import { REVIEW_ERRORS } from './review-errors';
import { VOICE_CARD_ERRORS } from './voice-card-errors';

interface CatalogueText {
  /** What happened. One line, no blame, no jargon. */
  readonly happened: string;
  /** What to do now, and what is safe. */
  readonly next: string;
  readonly developer: string;
}

const CATALOGUE = {
  // Orders that the machine refuses. The operation goes on; nothing was changed.
  'hold-point-closed': {
    happened: 'Not yet: {title}',
    next: 'Still missing: {missing}. Override only at the desk, with a reason.',
    developer: 'hold point "{holdPoint}" guards "{subject}"; unmet: {missing}',
  },
  'step-not-next': {
    happened: '“{title}” is not the next step',
    next: 'Now: {current}. Finish it or go back; nothing was changed.',
    developer: 'step.begin "{step}": its track stands at "{current}"',
  },
  'step-needs-captures': {
    happened: 'This step still needs: {missing}',
    next: 'Say it or type it, then confirm; nothing was changed.',
    developer: 'step.finish on "{track}": unconfirmed captures {missing}',
  },
  'no-step-active': {
    happened: 'No step is running on {track}',
    next: 'Look at the hold on the wall; nothing was changed.',
    developer: 'track "{track}" is waiting or done',
  },
  'no-way-back': {
    happened: 'There is no earlier step to go back to',
    next: 'Carry on; nothing was changed.',
    developer: 'step.goBack on "{track}" at its first step',
  },
  'capture-not-wanted': {
    happened: '{label} is not wanted now',
    next: 'Wait for its step, or go back to it; nothing was recorded as a size.',
    developer: 'capture "{capture}" does not belong to an active step',
  },
  'value-not-offered': {
    happened: '{label} {value} does not exist in this set',
    next: 'Choose one of: {choices}. Nothing was recorded as a size.',
    developer: 'capture "{capture}" received "{value}", expected one of {choices}',
  },
  'read-back-open': {
    happened: 'A read-back is waiting: {label} {value}',
    next: 'Confirm it or correct it first; nothing was changed.',
    developer: 'capture "{capture}" is offered and unsettled',
  },
  'no-read-back': {
    happened: 'Nothing is waiting to be confirmed',
    next: 'Say the size again; nothing was changed.',
    developer: 'no capture is offered',
  },
  'clock-held': {
    happened: 'The clock is held',
    next: 'Resume first; nothing was changed.',
    developer: 'order "{order}" while the clock is held',
  },
  'clock-not-held': {
    happened: 'The clock is not held',
    next: 'Carry on; nothing was changed.',
    developer: 'clock.resume without clock.held',
  },
  'clock-already-held': {
    happened: 'The clock is held already',
    next: 'Resume first to give another reason; nothing was changed.',
    developer: 'clock.hold while held',
  },
  'group-not-open': {
    happened: 'That can’t be ended now',
    next: 'Finish the item in hand first; nothing was changed.',
    developer: 'group "{group}" can only be ended where an item begins, after {atLeast}',
  },
  'step-not-optional': {
    happened: '“{title}” can’t be left out like that',
    next: 'Leave it out at the desk, with a reason; nothing was changed.',
    developer: 'step.leaveOut "{step}": not optional, or not where its track stands',
  },
  'step-not-ahead': {
    happened: '“{title}” can’t be reported ahead now',
    next: 'Do it in its turn; nothing was changed.',
    developer: 'step.reportAhead "{step}": not marked so, done already, or its turn has come',
  },
  'alternative-not-open': {
    happened: '“{label}” can’t be chosen at this step',
    next: 'The desk lists what can be chosen now; nothing was changed.',
    developer: 'alternative "{alternative}" outside its range of steps',
  },
  'constraint-broken': {
    happened: '{broken}',
    next: '{label} {value} was not taken. Look again, and say the value that goes with it.',
    developer: 'capture "{capture}" = "{value}" breaks constraint "{constraint}"',
  },
  'capture-not-settled': {
    happened: '{label} is not settled yet',
    next: 'Say it when its step comes; nothing was changed.',
    developer: 'capture.change "{capture}": not confirmed',
  },
  'nothing-to-keep': {
    happened: 'No size is being changed',
    next: 'Carry on; nothing was changed.',
    developer: 'capture.keep without capture.change',
  },
  'step-needs-answers': {
    happened: 'Not answered yet: {missing}',
    next: 'Say each answer or press it at the desk; nothing was changed.',
    developer: 'step.finish on "{track}": open checklist items {missing}',
  },
  'check-not-open': {
    happened: 'That checklist is not open now',
    next: 'Its step has to be running; nothing was changed.',
    developer: 'check.answer "{step}/{item}": step not in hand, or no such item',
  },
  'step-needs-counts': {
    happened: 'Not counted yet: {missing}',
    next: 'Count and record each; nothing was changed.',
    developer: 'step.finish on "{track}": uncounted items {missing}',
  },
  'count-not-open': {
    happened: 'That count is not open now',
    next: 'Its step has to be running or done; nothing was changed.',
    developer:
      'count.record "{count}/{item}": not reached, unknown, or not a whole number from 0 to 999',
  },
  'count-needs-baseline': {
    happened: 'There is no first count of {label} yet',
    next: 'Record the first count, then add; nothing was changed.',
    developer: 'count of "{item}" before its baseline, or below zero',
  },
  'timer-not-running': {
    happened: '{label} is not running',
    next: 'Start it first; nothing was changed.',
    developer: 'timer "{timer}" is not running',
  },
  'timer-running': {
    happened: '{label} is running already',
    next: 'Stop it first to start anew; nothing was changed.',
    developer: 'timer.start "{timer}" while it runs',
  },
  'hand-over-needs-label': {
    happened: 'A hand-over needs the new person’s label',
    next: 'Write something like “scrub B”, no names; nothing was changed.',
    developer: 'role.handOver with an empty or too long label',
  },
  'nothing-to-undo': {
    happened: 'There is nothing to take back',
    next: 'Go back a step or change a size instead; nothing was changed.',
    developer: 'order.undo without a last order that moved the case',
  },
  'desk-only': {
    happened: 'That is done at the desk only',
    next: 'Ask the nurse at the desk; nothing was changed.',
    developer: 'order "{order}" from source "{source}"',
  },
  'override-only-at-desk': {
    happened: 'An override is given at the desk only',
    next: 'Give the reason there; nothing was changed.',
    developer: 'override order from source "{source}"',
  },
  'skip-only-at-desk': {
    happened: 'A step is left out at the desk only',
    next: 'Give the reason there; nothing was changed.',
    developer: 'step.skip from source "{source}"',
  },
  'skip-needs-reason': {
    happened: 'Leaving a step out needs a reason',
    next: 'Write a few words on why; nothing was changed.',
    developer: 'step.skip with an empty reason',
  },
  'override-not-needed': {
    happened: '“{title}” is open, no override is needed',
    next: 'Carry on; nothing was changed.',
    developer: 'hold point "{holdPoint}" passes or is overridden',
  },
  'override-needs-reason': {
    happened: 'An override needs a reason',
    next: 'Write a few words on why; nothing was changed.',
    developer: 'override.request with an empty reason',
  },
  'override-changed': {
    happened: 'More is missing now for “{title}” than when the override was asked for',
    next: 'Look again, and ask anew if it still stands; nothing was changed.',
    developer: 'hold point "{holdPoint}": unmet conditions grew since override.requested',
  },
  'changed-meanwhile': {
    happened: 'The wall had moved on before that was heard',
    next: 'Look at the wall and say or press it again; nothing was changed.',
    developer: 'order "{order}" was given for another state than it met',
  },
  'go-back-reaches-far': {
    happened: 'Going back here would also reopen: {steps}',
    next: 'Do it at the desk if it is meant; nothing was changed.',
    developer: 'step.goBack on "{track}" would reopen finished steps of another track',
  },
  'order-failed': {
    happened: 'That could not be worked out',
    next: 'The case goes on; use the desk. Nothing was changed.',
    developer: 'deciding "{order}" threw: {detail}',
  },
  'no-override-asked': {
    happened: 'No override is waiting for its second confirmation',
    next: 'Ask for it first; nothing was changed.',
    developer: 'override.confirm or override.withdraw without override.requested',
  },
  'unknown-name': {
    happened: 'This procedure has no “{name}”',
    next: 'Look at the desk for its steps; nothing was changed.',
    developer: 'unknown id "{name}" in an order',
  },
  'case-closed': {
    happened: 'This case is closed',
    next: 'The record is kept; open a new case to go on.',
    developer: 'order after case.closed',
  },
  // Procedures.
  'procedure-invalid': {
    happened: 'This procedure file can’t be used',
    next: '{finding}. The built-in procedures still work.',
    developer: '{path}: expected {expected}, received {received}',
  },
  'procedures-not-kept': {
    happened: 'The list of procedures can’t be kept on this machine',
    next: 'The built-in ones still work. Keep the file itself, and bring it again next time.',
    developer: 'procedure shelf: {detail}',
  },
  'procedure-built-in': {
    happened: '“{name}” comes with the program and stays',
    next: 'Keep the new one under a name of its own; nothing was changed.',
    developer: 'procedure "{name}" is built in',
  },
  'procedure-unknown': {
    happened: 'No procedure is called “{name}”',
    next: 'Choose one from the list.',
    developer: 'unknown procedure "{name}"',
  },
  ...RECORD_ERRORS,
  ...REVIEW_ERRORS,
  // Sound.
  'microphone-missing': {
    happened: 'No microphone was found',
    next: 'The case goes on by keyboard and desk. Plug one in and press Listen.',
    developer: 'getUserMedia: {detail}',
  },
  'microphone-refused': {
    happened: 'The browser was not allowed to use the microphone',
    next: 'The case goes on by keyboard and desk. Allow it in the address bar; press Listen if it stays deaf.',
    developer: 'getUserMedia: {detail}',
  },
  'microphone-busy': {
    happened: 'Another program holds the microphone',
    next: 'The case goes on by keyboard and desk. Close that program: the wall hears by itself.',
    developer: 'getUserMedia: {detail}',
  },
  'microphone-lost': {
    happened: 'The microphone went away',
    next: 'The case goes on by keyboard and desk. Plug it in again: the wall hears by itself.',
    developer: 'track ended: {detail}',
  },
  'microphone-muted': {
    happened: 'The microphone is muted',
    next: 'The case goes on by keyboard and desk. Switch it on: the wall hears by itself.',
    developer: 'track muted: {detail}',
  },
  'microphone-suspended': {
    happened: 'The browser holds the sound back',
    next: 'The case goes on by keyboard and desk. Press any key in this window.',
    developer: 'audio context {detail}',
  },
  'microphone-silent': {
    happened: 'The microphone gives no sound at all',
    next: 'The case goes on by keyboard and desk. Look at its switch, cable and battery.',
    developer: 'digital silence or no frames from "{detail}"',
  },
  'listener-failed': {
    happened: 'The listener stopped',
    next: 'The case goes on by keyboard and desk. Press Listen to start it again.',
    developer: 'worker: {detail}',
  },
  ...VOICE_CARD_ERRORS,
  'utterance-lost': {
    happened: 'The listener had to start again; what was just said is lost',
    next: 'The record is safe. Say it again when the wall listens.',
    developer: 'the worker died while speech was under way',
  },
  'word-not-pronounceable': {
    happened: 'The listener does not know the word “{word}”',
    next: 'Give its orders by keyboard or at the desk; everything else can be said.',
    developer: 'no pronunciation of "{word}" in the dictionary or src/voice/languages/lexicon.ts',
  },
  'announcer-silent': {
    happened: 'The wall can’t speak “{text}”',
    next: 'Read it from the screen.',
    developer: 'no clip and no voice for "{text}"',
  },
  'rehearsal-clip-missing': {
    happened: 'A recording of the rehearsal is missing',
    next: 'The rehearsal stops here; no case was touched.',
    developer: 'no clip for "{text}"',
  },
  'rehearsal-misheard': {
    happened: 'The listener did not take “{text}”, said three times',
    next: 'The rehearsal stops here; the case can go on at the desk.',
    developer: 'rehearsal line "{text}" gave no or another phrase three times',
  },
  // Windows.
  'another-window-writes': {
    happened: 'Another window runs this case',
    next: 'This one follows it; orders given here are passed on.',
    developer: 'the lock is held elsewhere',
  },
  'window-unreachable': {
    happened: 'The window that runs the case does not answer',
    next: 'The order was not carried out. Close that window and this one takes over.',
    developer: 'no reply within {timeoutMs} ms',
  },
  ...HEARING_ERRORS,
  ...IMPLANT_ERRORS,
  ...RECORDING_ERRORS,
} as const satisfies Record<string, CatalogueText>;

export type ErrorCode = keyof typeof CATALOGUE;
export type ErrorParams = Readonly<Record<string, string>>;

/** An expected failure: a code of the catalogue and what fills its text. */
export interface Fault {
  readonly code: ErrorCode;
  readonly params: ErrorParams;
}

/** The two lines that a person reads. */
export interface OperatorText {
  readonly happened: string;
  readonly next: string;
}

/** Makes a fault. */
export function fault(code: ErrorCode, params: ErrorParams = {}): Fault {
  return { code, params };
}

/** What to show for a fault. */
export function faultToOperatorText({ code, params }: Fault): OperatorText {
  const { happened, next } = CATALOGUE[code];
  return { happened: fillIn(happened, params), next: fillIn(next, params) };
}

/** What to log for a fault. */
export function faultToDeveloperText({ code, params }: Fault): string {
  return `${code}: ${fillIn(CATALOGUE[code].developer, params)}`;
}

/** Every code, in the order of the catalogue, for the documentation and its test. */
export function listErrors(): readonly ({ readonly code: ErrorCode } & CatalogueText)[] {
  return Object.entries(CATALOGUE).map(([code, text]) => ({ code: code as ErrorCode, ...text }));
}

function fillIn(text: string, params: ErrorParams): string {
  return text.replace(/\{(\w+)\}/g, (_, name: string) => params[name] ?? '…');
}
