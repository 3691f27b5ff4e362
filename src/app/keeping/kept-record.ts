/**
 * Named values that this machine keeps under one name, changed piece by piece. What could
 * not be read is never overwritten: each change reads first, and goes on top of what was kept.
 */
import { fault, faultToDeveloperText } from '../../domain';
import type { Fault } from '../../domain';
import type { Settings } from '../../record';

type Values = Readonly<Record<string, unknown>>;

export class KeptRecord {
  #values: Values = {};
  #isRead = false;

  /** `what` names it on the screen. */
  constructor(
    private readonly kept: Settings,
    private readonly name: string,
    private readonly what: string,
  ) {}

  /** What was kept as far as it could be read, and every change since. */
  get values(): Values {
    return this.#values;
  }

  /** Reads what is kept; changes of before lie on top of it. Fault: `settings-not-read`. */
  async load(): Promise<Fault | null> {
    const read = await this.kept.read(this.name);
    if (!read.ok) {
      const detail = faultToDeveloperText(read.error);
      return fault('settings-not-read', { what: this.what, detail });
    }
    this.#isRead = true;
    const { value } = read;
    this.#values = { ...(typeof value === 'object' ? value : {}), ...this.#values };
    return null;
  }

  /** Takes a change that another window keeps. */
  take(change: Values): void {
    this.#values = { ...this.#values, ...change };
  }

  /** Counts at once; the fault says why it is not kept. */
  async change(change: Values): Promise<Fault | null> {
    this.take(change);
    const unread = this.#isRead ? null : await this.load();
    if (unread) return unread;
    const written = await this.kept.write(this.name, { ...this.#values });
    return written.ok ? null : written.error;
  }
}
