/**
 * What is marked on the time line of a case at one moment. What an order brought about
 * that was then taken back is no longer marked; that it was taken back is.
 */
import type {
  CaptureId,
  CaptureValue,
  Entry,
  HoldPointId,
  OrderType,
  Outline,
  Stamp,
  StepId,
  TrackId,
} from '../domain';

/** Something that is marked on the time line at one moment. */
export interface Mark {
  readonly kind:
    | 'loop'
    | 'override'
    | 'refusal'
    | 'skip'
    | 'restart'
    | 'milestone'
    | 'held'
    | 'late'
    | 'confirmed'
    | 'corrected'
    | 'lapsed'
    | 'undone';
  readonly at: Stamp;
  readonly track: TrackId | null;
  readonly holdPoint: HoldPointId | null;
  /** What it is about: titles of steps, a reason, the code of a named time, a size without its unit, the order that was taken back. */
  readonly text: string;
  /** What was read back, where the mark is of a read-back; else null. */
  readonly size: Size | null;
}

/** A size or choice as it was offered. */
interface Size {
  readonly capture: CaptureId;
  readonly value: CaptureValue;
}

/** What a mark says beside its kind and its moment; what is left out is null or empty. */
type Said = Partial<Pick<Mark, 'track' | 'holdPoint' | 'text' | 'size'>>;

/** These follow from an order that can be taken back. */
const TAKEN_BACK: readonly Mark['kind'][] = ['loop', 'override', 'skip', 'held', 'confirmed'];

/** Where a step belongs and what it is called. */
type FindStep = (step: StepId) => {
  readonly track: TrackId | null;
  readonly title: string;
};

/** Takes entries one by one. */
export class CaseMarks {
  #marks: { readonly seq: number; readonly mark: Mark }[] = [];

  /** Read-backs that wait for their answer. */
  readonly #open = new Map<CaptureId, Size>();

  constructor(
    private readonly findStep: FindStep,
    private readonly captures: Outline['captures'],
  ) {}

  get list(): readonly Mark[] {
    return this.#marks.map(({ mark }) => mark);
  }

  take(entry: Entry): void {
    this.#takeReadBack(entry);
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

  /** Its answer is what is marked: confirmed, lapsed, or corrected by another offer or by taking it back. */
  #takeReadBack(entry: Entry): void {
    switch (entry.type) {
      case 'capture.offered': {
        const before = this.#open.get(entry.data.capture);
        if (before) this.#addSize('corrected', entry, before);
        this.#open.set(entry.data.capture, entry.data);
        return;
      }
      case 'capture.confirmed':
        return this.#addSize('confirmed', entry, entry.data);
      case 'capture.withdrawn':
        return this.#addSize('corrected', entry, entry.data);
      case 'capture.lapsed':
        return this.#addSize('lapsed', entry, entry.data);
      default:
        return;
    }
  }

  #addSize(kind: Mark['kind'], entry: Entry, { capture, value }: Size): void {
    this.#open.delete(capture);
    const label = this.captures.find(({ id }) => id === capture)?.label ?? capture;
    this.#add(kind, entry, { text: `${label}: ${value}`, size: { capture, value } });
  }

  #takeBack(entry: Entry, since: number, order: OrderType): void {
    this.#marks = this.#marks.filter(
      ({ seq, mark }) => seq < since || !TAKEN_BACK.includes(mark.kind),
    );
    this.#add('undone', entry, { text: order });
  }

  #add(kind: Mark['kind'], { seq, at, mono, run }: Entry, said: Said = {}): void {
    const mark = {
      kind,
      at: { at, mono, run },
      track: null,
      holdPoint: null,
      text: '',
      size: null,
      ...said,
    };
    this.#marks.push({ seq, mark });
  }
}
