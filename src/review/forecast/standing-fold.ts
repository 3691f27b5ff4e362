/**
 * What the forecast needs of a running case, taken entry by entry, so that a new entry
 * costs the same at the end of a long case as at its beginning.
 */
import type { Entry, Outline } from '../../domain';
import { CaseAxis } from '../case-axis';
import { TimesFold } from '../durations';

export class StandingFold {
  readonly axis = new CaseAxis([]);
  readonly #times: TimesFold;
  #count = 0;
  #caseId = '';

  constructor(readonly outline: Outline) {
    this.#times = new TimesFold(outline);
  }

  /** How many entries were taken. */
  get count(): number {
    return this.#count;
  }

  /** The case, empty before its first entry. */
  get caseId(): string {
    return this.#caseId;
  }

  get times(): ReturnType<TimesFold['result']> {
    return this.#times.result();
  }

  /** Takes the next entries of the record. */
  take(entries: readonly Entry[]): this {
    for (const entry of entries) {
      this.axis.take(entry);
      this.#times.take(entry);
      this.#caseId ||= entry.caseId;
      this.#count += 1;
    }
    return this;
  }
}
