/**
 * A scanner that works as a keyboard, on every screen that runs a case. It listens
 * before the keys of the desk do, so that no label is taken for shortcuts. In a field
 * that somebody types into, nothing is held back: there a scan is typed text.
 */
import type { Scheduler } from '../../domain';
import { KeyBurst } from './key-burst';

/** Marks keys that were given back, so that they are not held a second time. */
const GIVEN_BACK = new WeakSet<Event>();
/** Some wedges send the group separator as a chord: Ctrl and right bracket is ASCII 29. */
const SEPARATOR = '\u001d';

/** Joins the scanner to a window; returns the function that lets go. */
export function attachScanner(
  host: Window,
  scheduler: Scheduler,
  isWanted: () => boolean,
  onScan: (text: string) => void,
): () => void {
  let target: EventTarget | null = null;
  const burst = new KeyBurst({
    scheduler,
    onScan,
    giveBack: (keys) => {
      for (const key of keys) {
        const again = new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true });
        GIVEN_BACK.add(again);
        (target ?? host).dispatchEvent(again);
      }
    },
  });
  const onKey = (event: KeyboardEvent) => {
    if (GIVEN_BACK.has(event) || !isWanted() || isInField(event.target)) return;
    if (event.key === 'Enter' || event.key === 'Tab') {
      if (burst.finish()) stop(event);
      return;
    }
    const key = toCharacter(event);
    if (key === null) {
      // Anything else ends what came before it, so that keys keep their order.
      if (event.key !== 'Shift') burst.finish();
      return;
    }
    target = event.target;
    burst.take(key);
    stop(event);
  };
  host.addEventListener('keydown', onKey, { capture: true });
  return () => {
    host.removeEventListener('keydown', onKey, { capture: true });
  };
}

function stop(event: Event): void {
  event.preventDefault();
  event.stopImmediatePropagation();
}

/** The character that a key stands for; null for keys that are none, and for a person's shortcuts. */
function toCharacter(event: KeyboardEvent): string | null {
  if (event.ctrlKey && event.key === ']') return SEPARATOR;
  // A space is a button's key as well; labels hold none.
  if (event.ctrlKey || event.altKey || event.metaKey || event.repeat || event.key === ' ')
    return null;
  return event.key.length === 1 ? event.key : null;
}

function isInField(target: EventTarget | null): boolean {
  return (
    target instanceof Element &&
    target.closest('input:not([type=radio]):not([type=checkbox]), textarea, select') !== null
  );
}
