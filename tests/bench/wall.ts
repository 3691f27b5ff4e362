/**
 * `npm run bench -- wall`: what stands between an order and the screens, in Node, one
 * thread: compiling a procedure, one transition, making the view, replaying a long
 * record, reading labels and the camera's pictures. Times in milliseconds as distributions; a plain loop of the same number of
 * object copies is measured beside them, so that slow machines can be told apart.
 */
import type { Entry } from '../../src/domain';
import {
  applyFact,
  compileProcedure,
  decide,
  initialState,
  loadBuiltIn,
  stateKey,
} from '../../src/procedure';
import { readScan } from '../../src/labels';
import { CaseLog } from '../../src/session';
import { benchCamera } from './camera';
import { spread } from './spread';
import { openSampleCase, SAMPLE_SETTINGS } from '../support/sample-case';
import { walkTo } from '../support/walk-case';

const COMPILES = 200;
const LABELS = 50_000;
const REPLAYED_ENTRIES = 5_000;
const REPLAYS = 10;
const STEPS_BACK = 3;
const PROCEDURES = ['reverse-shoulder-glenoid', 'reverse-shoulder'];
/** As many fields as the facts of a case have. */
const sampleFields = Object.fromEntries(Array.from({ length: 22 }, (_, index) => [`field${index}`, index])); // prettier-ignore

/** Runs all of it: the flagship, and the largest operation there is. */
export async function benchWall(): Promise<object> {
  const procedures: object[] = [];
  for (const name of PROCEDURES) procedures.push(await benchProcedure(name));
  return {
    procedures,
    labels: benchLabels(),
    camera: await benchCamera(),
    reference: benchCopies(),
  };
}

async function benchProcedure(name: string): Promise<object> {
  const loaded = loadBuiltIn(name);
  if (!loaded.ok) throw new Error(`"${name}" does not load`);
  const compiled = loaded.value;
  const entries = await recordLongCase(name);

  const compile = measure(COMPILES, () => compileProcedure(compiled.procedure));
  let state = initialState(compiled);
  const transition = entries.flatMap((entry) => {
    const before = state;
    const ms = time(() => (state = applyFact(compiled, state, entry)));
    return state === before ? [] : [ms];
  });
  const replay = measure(REPLAYS, () => CaseLog.rebuild(entries, SAMPLE_SETTINGS));
  const log = CaseLog.rebuild(entries, SAMPLE_SETTINGS);
  if (!log.ok) throw new Error('The long case does not replay');
  if (stateKey(state) !== stateKey(log.value.facts.state))
    throw new Error('What was timed is not the replay');
  const view = measure(COMPILES, () => log.value.view(0, null));
  const order = { type: 'question.ask', question: 'next' } as const;
  const decision = measure(COMPILES, () => decide(compiled, state, order, 'desk'));
  return {
    procedure: { id: compiled.procedure.id, steps: compiled.steps.size },
    compileMs: spread(compile),
    transitionMs: spread(transition),
    decideMs: spread(decision),
    viewMs: spread(view),
    replay: { entries: entries.length, moving: transition.length, ms: spread(replay) },
  };
}

/** A case that goes to its last step, back and on again, and asks, until the record is long enough. */
async function recordLongCase(procedure: string): Promise<readonly Entry[]> {
  const sample = await openSampleCase({ procedure });
  const { session, say } = sample;
  const [line] = session.view.tracks;
  const last = line?.steps.at(-1)?.id;
  if (!line || last === undefined) throw new Error('The procedure has no steps');
  await walkTo(sample, last);
  while (session.entries.length < REPLAYED_ENTRIES) {
    for (let step = 0; step < STEPS_BACK; step += 1)
      await session.submit({ type: 'step.goBack', track: line.id }, 'desk');
    await say('what is next', null);
    await walkTo(sample, last);
  }
  return session.entries.slice(0, REPLAYED_ENTRIES);
}

function benchCopies(): object {
  const copies = measure(REPLAYS, () => {
    let copy: Readonly<Record<string, unknown>> = { ...sampleFields };
    for (let index = 0; index < REPLAYED_ENTRIES; index += 1) copy = { ...copy, count: index };
    return copy;
  });
  return { what: `${REPLAYED_ENTRIES} shallow copies`, ms: spread(copies) };
}

/** How many labels a second: one of each kind, as a scanner sends them. */
function benchLabels(): object {
  const texts = [']d201095201234567881727113010LOT1\u001d21S1', '+A99912345/$$52001510X3/16D20111212/S77DEFG457']; // prettier-ignore
  const settings = { prefix: '', suffix: '', separator: '', thisYear: 2026 };
  const ms = time(() => {
    for (let index = 0; index < LABELS; index += 1) {
      const read = readScan(texts[index % texts.length] ?? '', settings);
      if (!read.ok) throw new Error(read.error.code);
    }
  });
  return { read: LABELS, perSecond: Math.round((LABELS / ms) * 1000) };
}

function time(work: () => unknown): number {
  const from = performance.now();
  work();
  return performance.now() - from;
}

function measure(times: number, work: () => unknown): readonly number[] {
  return Array.from({ length: times }, () => time(work));
}
