/** Cases made by hand, entry by entry, on clocks that are moved by hand. */
import { ENTRY_VERSION, asId, toEntry } from '../../src/domain';
import type {
  CaseId,
  CaseSetup,
  Entry,
  Fact,
  Outline,
  RunId,
  Source,
  Stamp,
} from '../../src/domain';
import { HandClock } from '../support/hand-clock';

const FIELD = asId<Outline['tracks'][number]['id']>('field');
const TABLE = asId<Outline['tracks'][number]['id']>('table');

/** Two phases at the wound, one at the back table. */
export const OUTLINE: Outline = {
  title: 'Hand-made',
  tracks: [
    { id: FIELD, title: 'Field' },
    { id: TABLE, title: 'Back table' },
  ],
  alternatives: [{ id: asId('other'), label: 'The other way' }],
  holdPoints: [{ id: asId('gate'), title: 'The gate' }],
  captures: [{ id: asId('depth'), label: 'Depth of the hole' }],
  phases: [
    makePhase('open', 'field', 'Opening', 6, ['cut', 'clear']),
    makePhase('ream', 'field', 'Reaming', null, ['shape', 'try']),
    makePhase('build', 'table', 'Build', 3, ['press']),
  ],
};

function makePhase(
  id: string,
  track: string,
  title: string,
  usualMin: number | null,
  steps: readonly string[],
): Outline['phases'][number] {
  return {
    id: asId(id),
    track: asId(track),
    title,
    isQuiet: false,
    usualMin,
    alternative: null,
    steps: steps.map((step) => ({ id: asId(step), title: `Step ${step}`, short: step })),
  };
}

export const SETUP: CaseSetup = {
  procedureId: asId('hand-made'),
  procedure: {},
  mode: 'demo',
  side: 'left',
  roles: [],
  plan: {},
};

/** Writes entries down one after another. Minutes of the clock pass with `pass`. */
export class HandCase {
  readonly clock: HandClock;
  readonly entries: Entry[] = [];
  run = asId<RunId>('run-1');
  #monoStart = 0;

  constructor(wallMs?: number, setup: Partial<CaseSetup> = {}) {
    this.clock = new HandClock(wallMs);
    this.add({ type: 'case.opened', data: { ...SETUP, ...setup } });
  }

  get now(): Stamp {
    return {
      at: this.clock.wallMs(),
      mono: this.clock.monoMs() - this.#monoStart,
      run: this.run,
    };
  }

  pass(minutes: number): this {
    this.clock.advance(minutes * 60_000);
    return this;
  }

  add(fact: Fact, source: Source = 'desk'): this {
    const head = { caseId: asId<CaseId>('case-hand'), seq: this.entries.length, source };
    this.entries.push(toEntry({ ...head, version: ENTRY_VERSION, ...this.now }, fact));
    return this;
  }

  begin(step: string, track = 'field'): this {
    return this.add({ type: 'step.begun', data: { track: asId(track), step: asId(step) } });
  }

  finish(step: string, track = 'field'): this {
    return this.add({ type: 'step.finished', data: { track: asId(track), step: asId(step) } });
  }

  close(): this {
    return this.add({ type: 'case.closed', data: { outcome: 'finished' } });
  }

  /** The window died and came back: another run, whose monotonic clock starts at nought. */
  restart(): this {
    this.run = asId<RunId>(`run-${Number(this.run.slice(4)) + 1}`);
    this.#monoStart = this.clock.monoMs();
    return this.add({ type: 'run.resumed', data: {} }, 'wall');
  }
}
