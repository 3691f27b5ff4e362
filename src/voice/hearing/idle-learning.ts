/**
 * Learns from voice cards while nothing else is to be done, a little at a time: after each
 * piece whatever came in meanwhile goes first, so that neither speech nor a question
 * whether anybody is there waits for more than one piece.
 */
import type { CardLearning } from '../../domain';
import type { Listener } from './listener';

const NOTHING_LEFT = 100;

export interface IdlePorts {
  /** Whether nobody speaks and nothing waits. */
  isIdle(): boolean;
  /** Runs it after whatever runs now, and wakes this again. */
  enqueue(task: () => Promise<void>): Promise<void>;
  onLearning(learning: CardLearning): void;
}

export class IdleLearning {
  #isComing = false;
  #isClosed = false;
  /** In whole percent. */
  #told = NOTHING_LEFT;

  constructor(
    private readonly listener: Listener,
    private readonly ports: IdlePorts,
  ) {}

  /** Something was done: there may be time now, and there may be more to learn. */
  wake(): void {
    this.#tell();
    if (this.#isComing || !this.#canGoOn()) return;
    this.#isComing = true;
    // Messages that came meanwhile are taken before the timer's turn.
    setTimeout(() => {
      this.#isComing = false;
      // A failure is nobody's answer: unhandled, it ends the worker as any other does.
      if (this.#canGoOn()) void this.ports.enqueue(async () => this.listener.learnSome?.());
    }, 0);
  }

  close(): void {
    this.#isClosed = true;
  }

  #canGoOn(): boolean {
    return !this.#isClosed && !isLearnt(this.listener) && this.ports.isIdle();
  }

  #tell(): void {
    const { learning } = this.listener;
    if (!learning) return;
    const percent = toPercent(learning);
    if (percent === this.#told) return;
    this.#told = percent;
    this.ports.onLearning(learning);
  }
}

/** Learns all that is wanted at once, where nobody waits. */
export async function learnAll(listener: Listener): Promise<void> {
  while (!isLearnt(listener)) await listener.learnSome?.();
}

/** Whether nothing is left to be learnt. */
export function isLearnt({ learning }: Pick<Listener, 'learning'>): boolean {
  return learning === undefined || learning.done === learning.total;
}

function toPercent({ done, total }: CardLearning): number {
  return total === 0 ? NOTHING_LEFT : Math.floor((100 * done) / total);
}
