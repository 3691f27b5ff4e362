/** What runs inside the page of bench day: a case of twelve hours, entry after entry, and its taking up. */
import { asId } from '../../src/domain';
import type { CaseId, RunId, Scheduler } from '../../src/domain';
import { createIdbStore, createSnapshotStore } from '../../src/record';
import { CaseSession, describeBuiltIn } from '../../src/session';
import type { SessionPorts } from '../../src/session';
import { heardPhrase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

export interface DayPage {
  /** Goes on with the case until it has so many entries; gives the milliseconds of each order. */
  goOn(until: number): Promise<readonly number[]>;
  /** Opens a case of its own with so many entries, for taking up. */
  prepare(name: string, count: number): Promise<void>;
  /**
   * Takes a case up as the program does after a restart; gives milliseconds: from the list of
   * cases to a case that takes orders, the same without a snapshot, and until all is checked.
   */
  takeUp(name: string): Promise<Readonly<Record<'resumed' | 'checked' | 'longestWait', number>>>;
  /** The same with no snapshot to begin from. */
  takeUpWhole(name: string): Promise<number>;
  /** Bytes of the entries that lie deflated. */
  packedBytes(): number;
}

const DAY_S = 12 * 3600;
const store = createIdbStore({ indexedDB });
/** A clock that a whole day passes on while the bench runs. */
let secondsGone = 0;
const START_MS = Date.UTC(2031, 2, 14, 7, 0, 0);
const clock = { wallMs: () => START_MS + secondsGone * 1000, monoMs: () => secondsGone * 1000 };
/** Nothing of the case itself comes due in the bench; what is put off by nothing runs. */
const scheduler: Scheduler = {
  after: (delayMs, callback) => {
    const timer = delayMs === 0 ? setTimeout(callback, 0) : undefined;
    return () => {
      clearTimeout(timer);
    };
  },
};
const snapshots = createSnapshotStore(store.guard, 'bench');
const ports = { store, clock, scheduler, run: asId<RunId>(crypto.randomUUID()), snapshots };

async function open(name: string): Promise<CaseSession> {
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error(card.error.code);
  const opened = await CaseSession.open(ports, SAMPLE_SETTINGS, asId<CaseId>(name), {
    procedureId: asId(card.value.id),
    procedure: card.value.data,
    mode: 'demo',
    side: 'right',
    roles: [],
    plan: {},
  });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}

const spoken = WHOLE_CASE.filter((words) => !words.startsWith('+'));
let said = 0;
/** Some of what is said in a case, again and again: most of it is refused, and kept. */
async function goOnUntil(session: CaseSession, until: number): Promise<number[]> {
  const times: number[] = [];
  while (session.view.entryCount < until) {
    said += 1;
    secondsGone += DAY_S / 25_000;
    const words = said % 7 === 6 ? null : (spoken[said % spoken.length] ?? null);
    const begunMs = performance.now();
    await session.hear(heardPhrase(words));
    times.push(performance.now() - begunMs);
    if (session.view.unsavedCount > 0) throw new Error('not saved');
  }
  return times;
}

/** As the program begins: which case is open, then that case. */
async function resume(name: string, having: SessionPorts): Promise<CaseSession> {
  const listed = await store.listHeads();
  if (!listed.ok) throw new Error(listed.error.code);
  const resumed = await CaseSession.resume(having, SAMPLE_SETTINGS, asId<CaseId>(name));
  if (!resumed.ok) throw new Error(resumed.error.code);
  return resumed.value;
}

let day: CaseSession | null = null;
const page: DayPage = {
  goOn: async (until) => {
    day ??= await open('case-day');
    return goOnUntil(day, until);
  },
  prepare: async (name, count) => {
    await goOnUntil(await open(name), count);
  },
  takeUp: async (name) => {
    const begunMs = performance.now();
    const session = await resume(name, ports);
    const resumed = performance.now() - begunMs;
    let longestWait = 0;
    let isChecked = false;
    const whole = session.untilWhole().then((it) => {
      isChecked = true;
      if (!it.ok) throw new Error(it.error.code);
    });
    // What an order would wait for the check beside it.
    while (!isChecked) {
      const lastMs = performance.now();
      await new Promise((turn) => setTimeout(turn, 0));
      longestWait = Math.max(longestWait, performance.now() - lastMs);
    }
    await whole;
    return { resumed, checked: performance.now() - begunMs, longestWait };
  },
  takeUpWhole: async (name) => {
    const begunMs = performance.now();
    await resume(name, { ...ports, snapshots: undefined });
    return performance.now() - begunMs;
  },
  packedBytes: () => day?.packedBytes ?? 0,
};

Object.assign(globalThis, { dayPage: page });
