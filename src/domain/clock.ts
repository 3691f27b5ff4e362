/**
 * Time as the product knows it: wall time says when, monotonic time says how long.
 * Both are injected, so that tests move them by hand. A run is one life of one
 * window: monotonic readings of different runs can't be subtracted.
 */
import type { RunId } from './ids';

/** Reads the two clocks. Both in milliseconds; `monoMs` counts from the start of the run. */
export interface Clock {
  wallMs(): number;
  monoMs(): number;
}

/** Calls back later; returns the function that calls it off. */
export interface Scheduler {
  after(delayMs: number, callback: () => void): () => void;
}

/** One reading of both clocks, as every entry carries it. */
export interface Stamp {
  /** Wall time in milliseconds since 1970-01-01 UTC. */
  readonly at: number;
  /** Monotonic milliseconds since the run began. */
  readonly mono: number;
  readonly run: RunId;
}

/** How long, and whether it had to be estimated from the wall clock. */
export interface Elapsed {
  readonly ms: number;
  /** True where the two stamps belong to different runs. */
  readonly isEstimated: boolean;
}

/** Time from one stamp to a later one: monotonic within a run, wall clock across runs. */
export function elapsedBetween(from: Stamp, to: Stamp): Elapsed {
  return from.run === to.run
    ? { ms: Math.max(0, to.mono - from.mono), isEstimated: false }
    : { ms: Math.max(0, to.at - from.at), isEstimated: true };
}

/** A place in a record where the two clocks went apart. */
export interface ClockJump {
  /** Wall time after it, in milliseconds. */
  readonly at: number;
  /** How far the wall clock went ahead (or, below zero, back) of the monotonic one. */
  readonly byMs: number;
}

/** How far the clocks may drift apart between two entries before it counts: more than a time server's slewing. */
const JUMP_MS = 2_000;

/** Where the wall clock was set, or the machine slept, between two stamps of one run. */
export function listClockJumps(stamps: readonly Stamp[]): readonly ClockJump[] {
  return stamps.flatMap((stamp, index) => {
    const before = stamps[index - 1];
    if (before?.run !== stamp.run) return [];
    const byMs = stamp.at - before.at - (stamp.mono - before.mono);
    return Math.abs(byMs) > JUMP_MS ? [{ at: stamp.at, byMs }] : [];
  });
}
