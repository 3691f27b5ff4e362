/** Clock and scheduler that are moved by hand. */
import type { Clock, Scheduler } from '../../src/domain';

export class HandClock implements Clock, Scheduler {
  #wall: number;
  #mono = 0;
  #timers: { due: number; callback: () => void }[] = [];

  constructor(wallMs = Date.UTC(2026, 2, 4, 13, 25)) {
    this.#wall = wallMs;
  }

  wallMs(): number {
    return this.#wall;
  }

  monoMs(): number {
    return this.#mono;
  }

  after(delayMs: number, callback: () => void): () => void {
    const timer = { due: this.#mono + delayMs, callback };
    this.#timers.push(timer);
    return () => {
      this.#timers = this.#timers.filter((other) => other !== timer);
    };
  }

  /** Moves both clocks on and runs what is due. */
  advance(ms: number): void {
    this.#mono += ms;
    this.#wall += ms;
    const due = this.#timers.filter((timer) => timer.due <= this.#mono);
    this.#timers = this.#timers.filter((timer) => timer.due > this.#mono);
    for (const { callback } of due) callback();
  }

  /** Moves the wall clock alone, as a correction from the network would. */
  shiftWall(ms: number): void {
    this.#wall += ms;
  }
}
