/**
 * Invented cases for trying the review out: the same seed gives the same cases. They
 * are played through the real machine and marked as demo in their first entry, which
 * every screen and every file shows.
 */
import { asId } from '../../domain';
import type { CaseId, Entry, Fault, Result } from '../../domain';
import { loadProcedure } from '../../procedure';
import { createRandom } from '../../review';
import { playDemoCase } from './demo-case';
import type { DemoShift } from './habits';

export type { DemoShift } from './habits';

export interface DemoOptions {
  readonly seed: number;
  readonly count: number;
  readonly procedure: unknown;
  /** Wall time of the first morning. */
  readonly firstAt: number;
  readonly shift?: DemoShift;
}

const MINUTE_MS = 60_000;
const DAY_MS = 24 * 60 * MINUTE_MS;
const CASES_A_DAY = 3;
const SURGEONS = ['surgeon A', 'surgeon B'];

/** The cases one after another, so that whoever takes them can stop or show how far it is. */
export function makeDemoCases(options: DemoOptions): Result<Iterable<readonly Entry[]>, Fault> {
  const compiled = loadProcedure(options.procedure);
  if (!compiled.ok) return compiled;
  return { ok: true, value: playAll(compiled.value, options) };
}

function* playAll(
  compiled: Parameters<typeof playDemoCase>[0],
  { seed, count, procedure, firstAt, shift }: DemoOptions,
): Generator<readonly Entry[]> {
  const random = createRandom(seed);
  let startAt = firstAt;
  for (let place = 0; place < count; place += 1) {
    const surgeon = SURGEONS[random.uniform() < 0.65 ? 0 : 1] ?? 'surgeon A';
    const entries = playDemoCase(
      compiled,
      {
        caseId: asId<CaseId>(`demo-${seed}-${String(place).padStart(5, '0')}`),
        setup: {
          procedureId: asId(compiled.procedure.id),
          procedure,
          mode: 'demo',
          side: random.uniform() < 0.45 ? 'left' : 'right',
          theatre: 'Theatre 1',
          roles: [
            { role: 'surgeon', label: surgeon },
            { role: 'scrub', label: `scrub ${random.uniform() < 0.5 ? 'A' : 'B'}` },
          ],
          plan: {},
        },
        startAt,
        place,
        shift: shift ?? null,
      },
      random,
    );
    yield entries;
    const end = entries.at(-1)?.at ?? startAt;
    const isLast = place % CASES_A_DAY === CASES_A_DAY - 1;
    startAt = isLast
      ? nextMorning(startAt, firstAt)
      : end + (20 + 25 * random.uniform()) * MINUTE_MS;
  }
}

/** The next working day, at the time of the first morning. */
function nextMorning(startAt: number, firstAt: number): number {
  const day = Math.floor((startAt - firstAt) / DAY_MS);
  const weekday = new Date(firstAt + day * DAY_MS).getUTCDay();
  const skip = weekday === 5 ? 3 : weekday === 6 ? 2 : 1;
  return firstAt + (day + skip) * DAY_MS;
}
