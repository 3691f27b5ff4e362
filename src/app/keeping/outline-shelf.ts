/**
 * Outlines of the procedures that cases were opened with, made once for cases that were
 * opened with the very same text: one that was changed by a single figure is another one.
 */
import type { Outline } from '../../domain';
import { outlineOf } from '../../session';

export class OutlineShelf {
  readonly #outlines = new Map<string, Outline | null>();

  /** The outline of a recorded procedure; null where it can't be read. */
  of(procedure: unknown): Outline | null {
    const text = JSON.stringify(procedure);
    const known = this.#outlines.get(text);
    if (known !== undefined) return known;
    const made = outlineOf(procedure);
    const outline = made.ok ? made.value : null;
    this.#outlines.set(text, outline);
    return outline;
  }
}
