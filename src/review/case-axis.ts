/**
 * One time axis for a whole case: milliseconds since it was opened. Inside a run
 * the monotonic clock measures, so that a corrected wall clock bends nothing;
 * between runs the wall clock bridges the gap, which is an estimate. Labels are
 * wall times, read when the run began.
 */
import type { Entry, RunId, Stamp } from '../domain';

interface RunPart {
  readonly run: RunId;
  readonly first: Stamp;
  /** Where the run begins on the axis. */
  readonly offsetMs: number;
  last: Stamp;
}

export class CaseAxis {
  readonly #parts: RunPart[] = [];

  /** Entries in the order of the record. */
  constructor(entries: readonly Entry[]) {
    for (const entry of entries) this.take(entry);
  }

  /** Milliseconds since the case was opened; a stamp of an unknown run is placed by the wall clock. */
  positionOf(stamp: Stamp): number {
    const part = this.#parts.findLast(({ run }) => run === stamp.run);
    if (part) return part.offsetMs + Math.max(0, stamp.mono - part.first.mono);
    const last = this.#parts.at(-1);
    return last ? endOf(last) + Math.max(0, stamp.at - last.last.at) : 0;
  }

  /** The wall time at a position. */
  wallAt(positionMs: number): number {
    const part = this.#parts.findLast(({ offsetMs }) => offsetMs <= positionMs) ?? this.#parts[0];
    return part ? part.first.at + positionMs - part.offsetMs : positionMs;
  }

  /** Where a wall time lies; null where no run met it, as after a clock was put on between runs. */
  positionOfWall(wallMs: number): number | null {
    for (const [index, { first, offsetMs }] of this.#parts.entries()) {
      const positionMs = offsetMs + wallMs - first.at;
      const next = this.#parts[index + 1]?.offsetMs ?? Infinity;
      if (positionMs >= offsetMs && positionMs < next) return positionMs;
    }
    return null;
  }

  /** Where the last entry lies. */
  get endMs(): number {
    const last = this.#parts.at(-1);
    return last ? endOf(last) : 0;
  }

  /** The stamp of the next entry. */
  take({ at, mono, run }: Stamp): void {
    const stamp: Stamp = { at, mono, run };
    const current = this.#parts.at(-1);
    if (current?.run === stamp.run) {
      current.last = stamp;
      return;
    }
    const offsetMs = current ? endOf(current) + Math.max(0, stamp.at - current.last.at) : 0;
    this.#parts.push({ run: stamp.run, first: stamp, offsetMs, last: stamp });
  }
}

function endOf({ offsetMs, first, last }: RunPart): number {
  return offsetMs + Math.max(0, last.mono - first.mono);
}
