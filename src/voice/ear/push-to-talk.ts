/**
 * Push to talk: the ear is open while a key or a pedal is held, and a little longer, so
 * that the last word is heard to its end. A short press opens it for one sentence.
 * Moved by the scheduler that it is handed; a lost key-up shuts the ear all the same.
 */
import type { Scheduler } from '../../domain';

/** For how long after the key is let go? The listener decides 600 ms after the last word. */
const TAIL_MS = 1_500;
/** How long is the ear open after a short press? Time to say the longest phrase. */
const PRESS_MS = 5_000;
/** How long may a key be held at most? A pedal with something standing on it must not listen for ever. */
const LONGEST_HOLD_MS = 20_000;
/** Up to which length is it a press and not a hold? */
const SHORT_MS = 400;

export class PushToTalk {
  #isOpen = false;
  #pressedAtMs: number | null = null;
  #cancel: (() => void) | null = null;

  constructor(
    private readonly scheduler: Scheduler,
    private readonly nowMs: () => number,
    private readonly onChange: (isOpen: boolean) => void,
  ) {}

  get isOpen(): boolean {
    return this.#isOpen;
  }

  press(): void {
    if (this.#pressedAtMs !== null) return;
    this.#pressedAtMs = this.nowMs();
    this.#shutAfter(LONGEST_HOLD_MS);
    this.#set(true);
  }

  release(): void {
    if (this.#pressedAtMs === null) return;
    const heldMs = this.nowMs() - this.#pressedAtMs;
    this.#pressedAtMs = null;
    if (this.#isOpen) this.#shutAfter(heldMs < SHORT_MS ? PRESS_MS : TAIL_MS);
  }

  /** A command was heard: a press was meant for that one, a held key goes on. */
  takeCommand(): void {
    if (this.#pressedAtMs === null && this.#isOpen) this.#shutAfter(0);
  }

  #shutAfter(delayMs: number): void {
    this.#cancel?.();
    this.#cancel = this.scheduler.after(delayMs, () => {
      this.#set(false);
    });
  }

  #set(isOpen: boolean): void {
    if (isOpen === this.#isOpen) return;
    this.#isOpen = isOpen;
    this.onChange(isOpen);
  }
}
