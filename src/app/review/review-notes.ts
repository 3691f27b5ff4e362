/** What the team types into the look back and finds again at the next visit: marked changes and resource hours. */
import { fault, faultToDeveloperText } from '../../domain';
import type { Fault } from '../../domain';
import type { KeyRing, Settings } from '../../record';
import { markToKey, mergeMarks, readRoomHours } from '../../review';
import type { MarkedChange, RoomHours } from '../../review';
import { KeptRecord } from '../keeping/kept-record';
import { MarkStore } from './mark-store';

/** What they are called on the screen. */
const HOURS = 'resource hours';

export class ReviewNotes {
  readonly #store: MarkStore;
  #marks: readonly MarkedChange[] = [];
  #kept: KeptRecord;
  #hours: RoomHours | null = null;

  constructor(
    ring: KeyRing,
    private readonly settings: Settings,
  ) {
    this.#store = new MarkStore(ring);
    this.#kept = this.#openHours();
  }

  get marks(): readonly MarkedChange[] {
    return this.#marks;
  }

  /** The resource hours that were typed on this machine, or taken over from a file; null where none were. */
  get hours(): RoomHours | null {
    return this.#hours;
  }

  /** Reads what is kept, that of other windows too. Faults: `change-marks-not-kept`, `settings-not-read`. */
  async load(): Promise<readonly Fault[]> {
    const faults: Fault[] = [];
    try {
      this.#marks = mergeMarks(this.#marks, await this.#store.read());
    } catch (cause) {
      faults.push(marksNotKept(cause));
    }
    this.#kept = this.#openHours();
    const unread = (await this.#kept.load()) ?? this.#takeHours();
    return unread ? [...faults, unread] : faults;
  }

  /** Marks changes, each once; one that can't be kept counts as long as this visit lasts. */
  async mark(marks: readonly MarkedChange[]): Promise<Fault | null> {
    this.#marks = mergeMarks(this.#marks, marks);
    return attempt(() => this.#store.add(marks));
  }

  /** Takes a mark back. */
  async unmark(mark: MarkedChange): Promise<Fault | null> {
    const key = markToKey(mark);
    this.#marks = this.#marks.filter((it) => markToKey(it) !== key);
    return attempt(() => this.#store.remove(mark));
  }

  /** Keeps resource hours; those that can't be kept count as long as this visit lasts. Fault: `review-hours-not-kept`. */
  async keepHours(hours: RoomHours): Promise<Fault | null> {
    this.#hours = hours;
    const unkept = await this.#kept.change({ ...hours });
    return unkept && fault('review-hours-not-kept', { detail: faultToDeveloperText(unkept) });
  }

  #takeHours(): Fault | null {
    const { values } = this.#kept;
    this.#hours = readRoomHours(values);
    if (this.#hours !== null || Object.keys(values).length === 0) return null;
    return fault('settings-not-read', { what: HOURS, detail: JSON.stringify(values) });
  }

  #openHours(): KeptRecord {
    return new KeptRecord(this.settings, 'review-hours', HOURS);
  }
}

async function attempt(work: () => Promise<void>): Promise<Fault | null> {
  try {
    await work();
    return null;
  } catch (cause) {
    return marksNotKept(cause);
  }
}

function marksNotKept(cause: unknown): Fault {
  return fault('change-marks-not-kept', { detail: String(cause) });
}
