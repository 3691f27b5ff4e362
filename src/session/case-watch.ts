/**
 * What the wall does of its own accord when time has passed: an unconfirmed read-back
 * lapses, visibly, and a timer that has come due reminds.
 */
import type { RoomOrder, Scheduler, Stamp } from '../domain';
import { contextOf, isClosed } from '../procedure';
import type { CaseLog } from './kept/case-log';
import { nextDue } from './timer-facts';

/** The case that is watched, as it is at the moment it is asked. */
export interface WatchedCase {
  log(): CaseLog;
  now(): Stamp;
  /** Carries an order out in its turn, unless it is no longer due by then; the watch is set anew either way. */
  act(order: RoomOrder, isDue: () => boolean): void;
}

export class CaseWatch {
  #cancelLapse: (() => void) | null = null;
  #cancelReminder: (() => void) | null = null;
  /** The asking that the lapse timer runs for. */
  #watched: object | null = null;

  constructor(
    private readonly scheduler: Scheduler,
    private readonly watched: WatchedCase,
  ) {}

  /** Called whenever the case has changed. */
  set(): void {
    this.#watchReadBack();
    this.#watchTimers();
  }

  /** Lets go of everything that was going to happen. */
  clear(): void {
    this.#cancelLapse?.();
    this.#cancelReminder?.();
  }

  #watchReadBack(): void {
    const log = this.watched.log();
    const asked = openAsking(log);
    if (asked === this.#watched) return;
    this.#cancelLapse?.();
    this.#cancelLapse = null;
    this.#watched = asked;
    if (!asked) return;
    const leftMs = Math.max(0, log.readBackLeftMs(this.watched.now()));
    this.#cancelLapse = this.scheduler.after(leftMs, () => {
      const isOpen = () => openAsking(this.watched.log()) === asked;
      this.watched.act({ type: 'capture.lapse' }, isOpen);
    });
  }

  /** Reminds when the next timer comes due; one that is past already, at once. */
  #watchTimers(): void {
    this.#cancelReminder?.();
    this.#cancelReminder = null;
    const next = this.#nextDue();
    if (!next || isClosed(this.watched.log().facts.state)) return;
    const { timer, ms } = next;
    this.#cancelReminder = this.scheduler.after(Math.max(0, ms), () => {
      // It may have been stopped or answered meanwhile.
      const isDue = () => {
        const due = this.#nextDue();
        return due?.timer === timer && due.ms <= 0;
      };
      this.watched.act({ type: 'timer.remind', timer }, isDue);
    });
  }

  #nextDue(): ReturnType<typeof nextDue> {
    const { compiled, facts } = this.watched.log();
    return nextDue(compiled.procedure, facts, this.watched.now());
  }
}

/** When the open read-back was last asked about, the same object until it is asked anew; null where none is open. */
function openAsking({ facts: { askedAt, state } }: CaseLog): object | null {
  return contextOf(state).offered && askedAt;
}
