/**
 * The key map: what one key press means now. Pure, so that every key can be tested
 * against every state. Safety: a key that is held down does nothing again; only
 * Enter (and the confirm pedal) can confirm, only while a read-back is open, and
 * only after it could have been read; Space does nothing.
 */
import type { Order, Source } from '../../domain';
import type { CaseView, TrackView, WantedView } from '../../session';
import { AROUND_KEYS, letterToOrder } from './keys-around';
import type { CheckLine, CountLine } from './keys-around';
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
  /** The line of a checklist that is answered next. */
  readonly checkLine: CheckLine | null;
  /** The line of a count that is counted next. */
  readonly countLine: CountLine | null;
  /** Digits go to the count and not to a capture. */
  readonly isCounting: boolean;
  /** For how long the read-back has been open; null without one. */
  readonly readBackOpenMs: number | null;
}

export type KeyAction =
  | { readonly kind: 'order'; readonly order: Order; readonly source: Extract<Source, 'desk' | 'pedal'> }
  | { readonly kind: 'type'; readonly typed: string }
  | { readonly kind: 'ask-hold' }
  | { readonly kind: 'clear' }
  | { readonly kind: 'next-target' }
  | { readonly kind: 'toggle-count' }
  | { readonly kind: 'move-line'; readonly by: 1 | -1 }
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
  if (press.key === 'ArrowDown') return moveLine(1, context);
  if (press.key === 'ArrowUp') return moveLine(-1, context);
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
  const { typed, target, countLine, isCounting } = context;
  if (typed !== '' && isCounting) {
    return countLine
      ? order({
          type: 'count.record',
          count: countLine.count,
          item: countLine.item,
          value: Number(typed),
        })
      : null;
  }
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
  { view, typed, target, isHoldAsked, isCounting }: KeyContext,
): KeyAction | null {
  if (isHoldAsked) {
    const reason = view.holdReasons[Number(digit) - 1];
    return reason ? order({ type: 'clock.hold', reason: reason.label }) : null;
  }
  const takes = isCounting || target !== null;
  return takes && typed.length < MAX_DIGITS ? { kind: 'type', typed: typed + digit } : null;
}

/** Up and down move along the checklist or the count that is being gone through. */
function moveLine(by: 1 | -1, { checkLine, countLine }: KeyContext): KeyAction | null {
  return checkLine || countLine ? { kind: 'move-line', by } : null;
}

function letterToAction({ key, shiftKey }: KeyPress, context: KeyContext): KeyAction | null {
  const { view } = context;
  const name = `${shiftKey ? '⇧' : ''}${key.toUpperCase()}`;
  const around = letterToOrder(name, view, context);
  if (around) return order(around);
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
    case AROUND_KEYS.count:
      return context.countLine ? { kind: 'toggle-count' } : null;
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
