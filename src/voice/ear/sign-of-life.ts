/**
 * Notices that readings of the sound have stopped coming, and finds out who is dead:
 * a listener that does not answer, or a microphone that gives nothing.
 */
import type { Scheduler } from '../../domain';

/** How long may nothing come, in milliseconds? Readings come four times a second; a busy screen holds them up. */
const PATIENCE_MS = 3_000;
/** How long may the listener take to answer, in milliseconds? */
const ANSWER_MS = 2_000;

export interface LifePorts {
  /** Resolves when the listener answers. */
  ask(): Promise<unknown>;
  /** The listener lives; no sound comes to it. */
  onNoSound(): void;
  /** The listener does not answer. */
  onDead(): void;
}

export class SignOfLife {
  #cancel: () => void = () => undefined;
  /** Changes whenever an answer to an earlier question is no longer of interest. */
  #turn = 0;

  constructor(
    private readonly scheduler: Scheduler,
    private readonly ports: LifePorts,
  ) {}

  /** A reading came, or the watch begins. */
  sign(): void {
    this.stop();
    this.#cancel = this.scheduler.after(PATIENCE_MS, () => this.#inquire());
  }

  stop(): void {
    this.#turn += 1;
    this.#cancel();
  }

  #inquire(): void {
    const turn = this.#turn;
    this.#cancel = this.scheduler.after(ANSWER_MS, () => {
      this.#turn += 1;
      this.ports.onDead();
    });
    void this.ports.ask().then(() => {
      if (turn !== this.#turn) return;
      this.stop();
      this.ports.onNoSound();
    });
  }
}
