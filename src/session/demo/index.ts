/**
 * Invented cases for trying the review out: the same seed gives the same cases. They
 * are played through the real machine and marked as demo in their first entry, which
 * every screen and every file shows.
 */
import { asId, OWN_LANGUAGE } from '../../domain';
import type { CaseId, CaseSetup, Entry, Fault, Result } from '../../domain';
import { loadProcedure } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import { createRandom } from '../../review';
import type { Random } from '../../review';
import { playDemoCase } from './demo-case';
import { HABITS } from './habits';
import type { DemoShift, Habits } from './habits';

export type { DemoShift } from './habits';

export interface DemoOptions {
  readonly seed: number;
  readonly count: number;
  readonly procedure: unknown;
  /** Wall time of the first morning. */
  readonly firstAt: number;
  /** What the theatre is called; "Theatre 1" where nothing is said. */
  readonly theatre?: string;
  readonly shift?: DemoShift;
  /** Where the team's habits are others than the usual ones. */
  readonly habits?: Partial<Habits>;
}

const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;
const CASES_A_DAY = 3;
/** No further case is begun so long after the first of the day began. */
const LAST_BEGIN_MS = 7 * 60 * MINUTE_MS;
const SURGEONS = ['surgeon A', 'surgeon B'];

/** The cases one after another, so that whoever takes them can stop or show how far it is. */
export function makeDemoCases(options: DemoOptions): Result<Iterable<readonly Entry[]>, Fault> {
  const compiled = loadProcedure(options.procedure);
  if (!compiled.ok) return compiled;
  return { ok: true, value: playAll(compiled.value, options) };
}

function* playAll(compiled: CompiledProcedure, options: DemoOptions): Generator<readonly Entry[]> {
  const { seed, count, firstAt, shift = null } = options;
  const habits = { ...HABITS, ...options.habits };
  const random = createRandom(seed);
  let startAt = firstAt;
  let today: readonly number[] = [];
  for (let place = 0; place < count; place += 1) {
    const caseId = asId<CaseId>(`demo-${seed}-${String(place).padStart(5, '0')}`);
    const setup = makeSetup(compiled, options, habits, random);
    const entries = playDemoCase(compiled, { caseId, setup, startAt, place, shift, habits }, random); // prettier-ignore
    yield entries;
    today = [...today, startAt];
    const end = entries.at(-1)?.at ?? startAt;
    const next = end + (20 + 25 * random.uniform()) * MINUTE_MS;
    const isLast = today.length === CASES_A_DAY || next - (today[0] ?? startAt) > LAST_BEGIN_MS;
    startAt = isLast ? nextMorning(startAt, firstAt) : next;
    if (isLast) today = [];
  }
}

/** Who operates on which side, and whether the surgeon speaks with a voice card. */
function makeSetup(
  compiled: CompiledProcedure,
  { procedure, theatre = 'Theatre 1' }: DemoOptions,
  { cardChance }: Habits,
  random: Random,
): CaseSetup {
  const surgeon = SURGEONS[random.uniform() < 0.65 ? 0 : 1] ?? 'surgeon A';
  const card = { role: 'surgeon', card: `demo-${surgeon}`, label: surgeon, version: 1, language: OWN_LANGUAGE }; // prettier-ignore
  return {
    procedureId: asId(compiled.procedure.id),
    procedure,
    mode: 'demo',
    side: random.uniform() < 0.45 ? 'left' : 'right',
    theatre,
    roles: [
      { role: 'surgeon', label: surgeon },
      { role: 'scrub', label: `scrub ${random.uniform() < 0.5 ? 'A' : 'B'}` },
    ],
    plan: {},
    voiceCards: random.uniform() < cardChance ? [card] : [],
  };
}

/** The next working day, at the time of the first morning. */
function nextMorning(startAt: number, firstAt: number): number {
  const day = Math.floor((startAt - firstAt) / DAY_MS);
  const weekday = new Date(firstAt + day * DAY_MS).getUTCDay();
  const skip = weekday === 5 ? 3 : weekday === 6 ? 2 : 1;
  return firstAt + (day + skip) * DAY_MS;
}
