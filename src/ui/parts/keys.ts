/**
 * The key map: what one key press means now. Pure, so that every key can be tested
 * against every state. Safety: a key that is held down does nothing again; only
 * Enter (and the confirm pedal) can confirm, only while a read-back is open, and
 * only after it could have been read; Space does nothing.
 */
import type { Order, Source } from '../../domain';
import type { CaseView, TrackView, WantedView } from '../../session';
import { MAX_DIGITS, typedToValue } from './typed-value';

/** A read-back younger than this can't be confirmed by a key: it could not have been read. */
export const MIN_READ_MS = 500;

/** What the map needs to know of a key event and of where it landed. */
export interface KeyPress {
  readonly key: string;
  readonly shiftKey: boolean;
  /** Ctrl, Alt or Meta is down: the browser's business. */
  readonly isChord: boolean;
  /** The key is being held down. */
  readonly repeat: boolean;
  /** The focus is in a field that takes text. */
  readonly isInField: boolean;
  /** The focus is on a button, link or other control, which Enter and Space belong to. */
  readonly isOnControl: boolean;
}

export interface KeyContext {
  readonly view: CaseView;
  /** Digits typed so far. */
  readonly typed: string;
  /** The capture that typed digits go to. */
  readonly target: WantedView | null;
  /** H was pressed and a reason is awaited. */
  readonly isHoldAsked: boolean;
  /** For how long the read-back has been open; null without one. */
  readonly readBackOpenMs: number | null;
}

export type KeyAction =
  | { readonly kind: 'order'; readonly order: Order; readonly source: Extract<Source, 'desk' | 'pedal'> }
  | { readonly kind: 'type'; readonly typed: string }
  | { readonly kind: 'ask-hold' }
  | { readonly kind: 'clear' }
  | { readonly kind: 'next-target' }
  | { readonly kind: 'toggle-ear' }; // prettier-ignore

/** Keys as shown on the buttons, by track: the first is at the wound, the second the back table. */
const TRACK_KEYS = [
  { done: 'D', begin: 'S', back: 'B' },
  { done: 'T', begin: '⇧S', back: '⇧B' },
] as const;

/** The keys of the other buttons, as shown. */
export const KEYS = {
  confirm: 'Enter',
  cancel: 'Esc',
  hold: 'H',
  next: 'N',
  repeat: 'R',
  sizes: 'Z',
  mute: 'M',
  listen: 'L',
  endGroup: 'E',
  nextTarget: 'W',
} as const;

/** The keys of a track by its place; a third track has none. */
export function keysOfTrack(index: number): { done: string; begin: string; back: string } | null {
  return TRACK_KEYS[index] ?? null;
}

/** What a key press does now; null where it does nothing. */
export function keyToAction(press: KeyPress, context: KeyContext): KeyAction | null {
  const { view } = context;
  if (press.isChord || press.repeat || view.status === 'closed') return null;
  const pedal = pedalToAction(press.key, context);
  if (pedal) return pedal;
  if (press.isInField) return null;
  if (press.isOnControl && (press.key === 'Enter' || press.key === ' ')) return null;
  if (press.key === 'Enter') return enterToAction(context);
  if (press.key === 'Escape') return escapeToAction(context);
  if (press.key === 'Backspace') return { kind: 'type', typed: context.typed.slice(0, -1) };
  if (/^\d$/.test(press.key)) return digitToAction(press.key, context);
  return letterToAction(press, context);
}

/** A pedal is a key. It works wherever the focus is: whoever presses it can't see the field. */
function pedalToAction(key: string, context: KeyContext): KeyAction | null {
  const [field] = context.view.tracks;
  if (key === 'PageDown' && field) {
    return { kind: 'order', order: { type: 'step.finish', track: field.id }, source: 'pedal' };
  }
  return key === 'PageUp' && canConfirm(context)
    ? { kind: 'order', order: { type: 'capture.confirm' }, source: 'pedal' }
    : null;
}

function canConfirm({ readBackOpenMs }: KeyContext): boolean {
  return readBackOpenMs !== null && readBackOpenMs >= MIN_READ_MS;
}

function enterToAction(context: KeyContext): KeyAction | null {
  const { typed, target } = context;
  if (typed !== '') {
    const value = target && typedToValue(typed, target);
    return target && value !== null
      ? order({ type: 'capture.offer', capture: target.capture, value })
      : null;
  }
  return canConfirm(context) ? order({ type: 'capture.confirm' }) : null;
}

function escapeToAction({ view, typed, isHoldAsked }: KeyContext): KeyAction | null {
  if (typed !== '' || isHoldAsked) return { kind: 'clear' };
  if (view.readBack) return order({ type: 'capture.withdraw' });
  return view.overrideAsked ? order({ type: 'override.withdraw' }) : null;
}

function digitToAction(
  digit: string,
  { view, typed, target, isHoldAsked }: KeyContext,
): KeyAction | null {
  if (isHoldAsked) {
    const reason = view.holdReasons[Number(digit) - 1];
    return reason ? order({ type: 'clock.hold', reason: reason.label }) : null;
  }
  return target && typed.length < MAX_DIGITS ? { kind: 'type', typed: typed + digit } : null;
}

function letterToAction({ key, shiftKey }: KeyPress, { view }: KeyContext): KeyAction | null {
  const name = `${shiftKey ? '⇧' : ''}${key.toUpperCase()}`;
  switch (name) {
    case KEYS.hold:
      return view.clockHold ? order({ type: 'clock.resume' }) : { kind: 'ask-hold' };
    case KEYS.next:
      return order({ type: 'question.ask', question: 'next' });
    case KEYS.repeat:
      return order({ type: 'question.ask', question: 'repeat' });
    case KEYS.sizes:
      return order({ type: 'question.ask', question: 'sizes' });
    case KEYS.mute:
      return order({ type: view.isMuted ? 'announcer.unmute' : 'announcer.mute' });
    case KEYS.listen:
      return { kind: 'toggle-ear' };
    case KEYS.nextTarget:
      return { kind: 'next-target' };
    case KEYS.endGroup: {
      const exit = view.tracks.find((track) => track.exit)?.exit;
      return exit ? order({ type: 'group.finish', group: exit.group }) : null;
    }
    default:
      return trackKeyToAction(name, view.tracks);
  }
}

function trackKeyToAction(name: string, tracks: readonly TrackView[]): KeyAction | null {
  for (const [index, track] of tracks.entries()) {
    const keys = keysOfTrack(index);
    if (name === keys?.done) return order({ type: 'step.finish', track: track.id });
    if (name === keys?.back) return order({ type: 'step.goBack', track: track.id });
    if (name === keys?.begin && track.current && track.state === 'waiting') {
      return order({ type: 'step.begin', step: track.current.step });
    }
  }
  return null;
}

function order(what: Order): KeyAction {
  return { kind: 'order', order: what, source: 'desk' };
}
