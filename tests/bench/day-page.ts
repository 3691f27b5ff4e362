/** What runs inside the page of bench day: a case of twelve hours, entry after entry, and its taking up. */
import { asId } from '../../src/domain';
import type { CaseId, RunId } from '../../src/domain';
import { createIdbStore } from '../../src/record';
import { CaseLog, CaseSession, describeBuiltIn } from '../../src/session';
import { heardPhrase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

export interface DayPage {
  /** Goes on with the case until it has so many entries; gives the milliseconds of each order. */
  goOn(until: number): Promise<readonly number[]>;
  /** Opens a case of its own with so many entries, for taking up. */
  prepare(name: string, count: number): Promise<void>;
  /** Takes a case up as the program does after a restart; gives what took how many milliseconds. */
  takeUp(name: string): Promise<Readonly<Record<'total' | 'read' | 'replay', number>>>;
}

const DAY_S = 12 * 3600;
const store = createIdbStore({ indexedDB });
/** A clock that a whole day passes on while the bench runs. */
let secondsGone = 0;
const START_MS = Date.UTC(2031, 2, 14, 7, 0, 0);
const clock = { wallMs: () => START_MS + secondsGone * 1000, monoMs: () => secondsGone * 1000 };
const scheduler = { after: () => () => undefined };
const ports = { store, clock, scheduler, run: asId<RunId>(crypto.randomUUID()) };

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
  while (session.entries.length < until) {
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
    const caseId = asId<CaseId>(name);
    const begunMs = performance.now();
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
    if (!resumed.ok) throw new Error(resumed.error.code);
    const total = performance.now() - begunMs;
    const readMs = performance.now();
    const read = await store.read(caseId);
    if (!read.ok) throw new Error(read.error.code);
    const replayMs = performance.now();
    const log = CaseLog.rebuild(read.value.entries, SAMPLE_SETTINGS);
    if (!log.ok) throw new Error(log.error.code);
    return { total, read: replayMs - readMs, replay: performance.now() - replayMs };
  },
};

Object.assign(globalThis, { dayPage: page });
