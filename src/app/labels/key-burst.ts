/**
 * Tells a scanner that types from a person who types. A scanner sends its keys a few
 * milliseconds apart and ends with Enter or Tab; nobody types like that. Characters
 * are held back for a moment; what turns out to be typing is given back, key by key.
 * Pure but for the scheduler that it is handed.
 */
import type { Scheduler } from '../../domain';

/** How far apart may keys of a scanner be? The slowest keyboard wedges send one in 30 ms; a fast typist needs 60. */
export const BURST_GAP_MS = 35;
/** How many characters make a scan? No label is shorter; no shortcut of the desk is as long. */
export const LEAST_SCAN_CHARS = 8;

export interface BurstPorts {
  readonly scheduler: Scheduler;
  /** A whole scan, without the key that ended it. */
  readonly onScan: (text: string) => void;
  /** Keys that were a person's after all, in order. */
  readonly giveBack: (keys: readonly string[]) => void;
}

export class KeyBurst {
  #keys: string[] = [];
  #cancel: (() => void) | null = null;

  constructor(private readonly ports: BurstPorts) {}

  /** Takes one printable character, or a control character that a wedge passes on. */
  take(key: string): void {
    this.#keys.push(key);
    this.#cancel?.();
    this.#cancel = this.ports.scheduler.after(BURST_GAP_MS, () => {
      this.#end();
    });
  }

  /** Enter or Tab: whether it ended a scan, and so was the scanner's. */
  finish(): boolean {
    const isScan = this.#keys.length >= LEAST_SCAN_CHARS;
    this.#end();
    return isScan;
  }

  /** Time ran out, or something else came: a scan or typing, whichever it was. */
  #end(): void {
    this.#cancel?.();
    this.#cancel = null;
    const keys = this.#keys;
    this.#keys = [];
    if (keys.length >= LEAST_SCAN_CHARS) this.ports.onScan(keys.join(''));
    else if (keys.length > 0) this.ports.giveBack(keys);
  }
}
