/**
 * What is marked on the time line of a case at one moment. What an order brought about
 * that was then taken back is no longer marked; that it was taken back is.
 */
import type { Entry, HoldPointId, OrderType, Stamp, StepId, TrackId } from '../domain';

/** Something that is marked on the time line at one moment. */
export interface Mark {
  readonly kind:
    'loop' | 'override' | 'refusal' | 'skip' | 'restart' | 'milestone' | 'held' | 'late' | 'undone';
  readonly at: Stamp;
  readonly track: TrackId | null;
  readonly holdPoint: HoldPointId | null;
  /** What it is about: titles of steps, a reason, the code of a named time, the order that was taken back. */
  readonly text: string;
}

/** What a mark says beside its kind and its moment; what is left out is null or empty. */
type Said = Partial<Pick<Mark, 'track' | 'holdPoint' | 'text'>>;

/** These follow from an order that can be taken back. */
const TAKEN_BACK: readonly Mark['kind'][] = ['loop', 'override', 'skip', 'held'];

/** Where a step belongs and what it is called. */
export type FindStep = (step: StepId) => {
  readonly track: TrackId | null;
  readonly title: string;
};

/** Takes entries one by one. */
export class CaseMarks {
  #marks: { readonly seq: number; readonly mark: Mark }[] = [];

  constructor(private readonly findStep: FindStep) {}

  get list(): readonly Mark[] {
    return this.#marks.map(({ mark }) => mark);
  }

  take(entry: Entry): void {
    switch (entry.type) {
      case 'step.held': {
        const { track, step, holdPoint } = entry.data;
        this.#add('held', entry, { track, text: this.findStep(step).title, holdPoint });
        return;
      }
      case 'step.skipped': {
        const { track, step, reason } = entry.data;
        this.#add('skip', entry, { track, text: `${this.findStep(step).title}: ${reason}` });
        return;
      }
      case 'loop.repeated': {
        const { track, title } = this.findStep(entry.data.to);
        this.#add('loop', entry, { track, text: title });
        return;
      }
      case 'override.granted': {
        const { holdPoint, missing } = entry.data;
        this.#add('override', entry, { text: missing.join(', '), holdPoint });
        return;
      }
      case 'order.refused': {
        const { holdPoint } = entry.data;
        if (holdPoint) this.#add('refusal', entry, { holdPoint });
        return;
      }
      case 'order.undone':
        this.#takeBack(entry, entry.data.since, entry.data.order);
        return;
      case 'run.resumed':
        this.#add('restart', entry);
        return;
      case 'milestone.reached':
        this.#add('milestone', entry, { text: entry.data.milestone });
        return;
      default:
        return; // Facts that are not marked.
    }
  }

  #takeBack(entry: Entry, since: number, order: OrderType): void {
    this.#marks = this.#marks.filter(
      ({ seq, mark }) => seq < since || !TAKEN_BACK.includes(mark.kind),
    );
    this.#add('undone', entry, { text: order });
  }

  #add(kind: Mark['kind'], { seq, at, mono, run }: Entry, said: Said = {}): void {
    const mark = { kind, at: { at, mono, run }, track: null, holdPoint: null, text: '', ...said };
    this.#marks.push({ seq, mark });
  }
}
