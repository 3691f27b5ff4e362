/**
 * A room without walls or waiting: time moves with the sound that is played, so that
 * a whole case runs as fast as the listener can work. Clock, scheduler and stage of
 * a rehearsal in Node.
 */
import { ok } from '../domain';
import type { Clock, Fault, Result, Scheduler } from '../domain';
import type { RehearsalLine, RehearsalStage } from '../session';
import { SAMPLE_RATE_HZ } from '../voice';

/** How much sound is pushed at a time, in samples: 20 ms, as a microphone would. */
const CHUNK_SAMPLES = SAMPLE_RATE_HZ / 50;
/** Silence after a line, within which the listener decides, in milliseconds. */
const AFTER_LINE_MS = 900;
/** Of a longer silence only so much is played, in milliseconds; the clock moves on over the rest. */
const MOST_SILENCE_MS = 5_000;
/** By how much the clock then moves at a time, in milliseconds. */
const CLOCK_STEP_MS = 1_000;

export class VirtualClock implements Clock, Scheduler {
  #mono = 0;
  #timers: { readonly dueMs: number; readonly callback: () => void }[] = [];

  constructor(private readonly startedAt: number) {}

  wallMs(): number {
    return Math.round(this.startedAt + this.#mono);
  }

  monoMs(): number {
    return this.#mono;
  }

  after(delayMs: number, callback: () => void): () => void {
    const timer = { dueMs: this.#mono + delayMs, callback };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  advance(ms: number): void {
    this.#mono += ms;
    const due = this.#timers.filter(({ dueMs }) => dueMs <= this.#mono);
    this.#timers = this.#timers.filter(({ dueMs }) => dueMs > this.#mono);
    for (const { callback } of due) callback();
  }
}

/** What the room needs: where sound goes, where clips come from, and what is still being worked on. */
export interface RoomParts {
  readonly clock: VirtualClock;
  push(samples: Float32Array): Promise<void>;
  loadClip(line: RehearsalLine): Promise<Result<Float32Array, Fault>>;
  /** Resolves when everything that was heard so far has been decided on and recorded. */
  caughtUp(): Promise<void>;
  /** What the room adds to all sound; left out, nothing. */
  readonly over?: (sound: Float32Array) => Float32Array;
  readonly mostTries?: number;
  readonly hasDesk?: boolean;
}

/** Makes the stage. Silence has the faint hiss of a real room: digital zero would be a special case. */
export function createVirtualStage(parts: RoomParts): RehearsalStage {
  const { clock, push, loadClip, caughtUp, over = (sound) => sound } = parts;
  let seed = 1;
  const hiss = (samples: number): Float32Array =>
    Float32Array.from({ length: samples }, () => {
      seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
      return (seed / 2_147_483_648 - 0.5) * 0.002;
    });

  async function play(sound: Float32Array): Promise<void> {
    for (let from = 0; from < sound.length; from += CHUNK_SAMPLES) {
      const chunk = sound.slice(from, from + CHUNK_SAMPLES);
      clock.advance((chunk.length * 1000) / SAMPLE_RATE_HZ);
      await push(over(chunk));
    }
    await caughtUp();
  }

  const quiet = (ms: number): Promise<void> => play(hiss(Math.round((ms * SAMPLE_RATE_HZ) / 1000)));
  return {
    ...(parts.mostTries !== undefined && { mostTries: parts.mostTries }),
    hasDesk: parts.hasDesk ?? false,
    speak: async (line) => {
      const clip = await loadClip(line);
      if (!clip.ok) return clip;
      await play(clip.value);
      await quiet(AFTER_LINE_MS);
      return ok(undefined);
    },
    silence: () => caughtUp(),
    pause: async (ms) => {
      for (let leftMs = ms - MOST_SILENCE_MS; leftMs > 0; leftMs -= CLOCK_STEP_MS) {
        clock.advance(Math.min(leftMs, CLOCK_STEP_MS));
        await caughtUp();
      }
      await quiet(Math.min(ms, MOST_SILENCE_MS));
    },
  };
}
