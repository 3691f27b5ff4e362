/**
 * What the look back has in hand: one long work at a time. It says how far it is, can be
 * stopped by a person or overtaken by another work, and knows how what was stopped goes on.
 */
import type { Fault, Result } from '../../domain';
import type { Brought, WorkProgress } from '../../ui';

/** Goes on with what was stopped; null where it ends without anything taken in. */
export type Again = () => Promise<Result<Brought | null, Fault>>;

/** One work, from its beginning to its end. */
export interface WorkRun {
  /** It was stopped, or another one was begun. */
  readonly isOver: boolean;
  reach(done: number, total: number): void;
  /** It is done, or can't be done. Nothing where it is over. */
  end(): void;
}

export class ReviewWork {
  /** Counts works and stops; a work whose number has passed is over. */
  #count = 0;
  #at: WorkProgress | null = null;
  #stopped: WorkProgress | null = null;
  #again: Again | null = null;

  /** How far the work in hand is; null while there is none. */
  get progress(): WorkProgress | null {
    return this.#at;
  }

  /** How far it was when it was stopped; null where it was not. */
  get stopped(): WorkProgress | null {
    return this.#stopped;
  }

  /** What goes on with what was stopped; null where nothing was. */
  get again(): Again | null {
    return this.#stopped && this.#again;
  }

  /** Cases are being added or taken in: nothing else may begin. */
  get isChanging(): boolean {
    return this.#at !== null && this.#at.kind !== 'reading';
  }

  begin(kind: WorkProgress['kind'], total: number, again: Again): WorkRun {
    const mine = ++this.#count;
    const isOver = () => mine !== this.#count;
    this.#at = { kind, done: 0, total };
    this.#stopped = null;
    this.#again = again;
    return {
      get isOver() {
        return isOver();
      },
      reach: (done, of) => {
        if (!isOver()) this.#at = { kind, done, total: of };
      },
      end: () => {
        if (!isOver()) this.#at = null;
      },
    };
  }

  /** Stops what is in hand; false where nothing is. */
  stop(): boolean {
    if (!this.#at) return false;
    this.#count += 1;
    this.#stopped = this.#at;
    this.#at = null;
    return true;
  }
}
