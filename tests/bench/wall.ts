/**
 * `npm run bench -- wall`: what stands between an order and the screens, in Node, one
 * thread: compiling a procedure, one transition, making the view, replaying a long
 * record. Times in milliseconds as distributions; a plain loop of the same number of
 * object copies is measured beside them, so that slow machines can be told apart.
 */
import { asId } from '../../src/domain';
import type { Entry, TrackId } from '../../src/domain';
import {
  applyFact,
  compileProcedure,
  decide,
  initialState,
  loadBuiltIn,
} from '../../src/procedure';
import { readScan } from '../../src/labels';
import { CaseLog } from '../../src/session';
import { spread } from './spread';
import { openSampleCase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

const COMPILES = 200;
const LABELS = 50_000;
const REPLAYED_ENTRIES = 5_000;
const REPLAYS = 10;

/** Runs all of it. */
export async function benchWall(): Promise<object> {
  const loaded = loadBuiltIn('reverse-shoulder-glenoid');
  if (!loaded.ok) throw new Error('The flagship does not load');
  const compiled = loaded.value;
  const entries = await recordLongCase();
  const moving = entries.filter(({ type }) => /^(step|capture|group)\./.test(type));

  const compile = measure(COMPILES, () => compileProcedure(compiled.procedure));
  let state = initialState(compiled);
  const transition = moving.map((entry) => time(() => (state = applyFact(compiled, state, entry))));
  const replay = measure(REPLAYS, () => CaseLog.rebuild(entries, SAMPLE_SETTINGS));
  const log = CaseLog.rebuild(entries, SAMPLE_SETTINGS);
  if (!log.ok) throw new Error('The long case does not replay');
  const view = measure(COMPILES, () => log.value.view(0, null));
  const order = { type: 'question.ask', question: 'next' } as const;
  const decision = measure(COMPILES, () => decide(compiled, state, order, 'desk'));
  const copies = measure(REPLAYS, () => {
    let copy: Readonly<Record<string, unknown>> = { ...log.value.facts };
    for (let index = 0; index < REPLAYED_ENTRIES; index += 1) copy = { ...copy, count: index };
    return copy;
  });
  return {
    procedure: { id: compiled.procedure.id, steps: compiled.steps.size },
    compileMs: spread(compile),
    transitionMs: spread(transition),
    decideMs: spread(decision),
    viewMs: spread(view),
    labels: benchLabels(),
    replay: { entries: entries.length, ms: spread(replay) },
    reference: { what: `${REPLAYED_ENTRIES} shallow copies`, ms: spread(copies) },
  };
}

/** A case that goes on and back and asks until the record is long enough. */
async function recordLongCase(): Promise<readonly Entry[]> {
  const { session, say } = await openSampleCase();
  const field = asId<TrackId>('field');
  await say(...WHOLE_CASE);
  while (session.entries.length < REPLAYED_ENTRIES) {
    await session.submit({ type: 'step.goBack', track: field }, 'desk');
    await session.submit({ type: 'step.finish', track: field }, 'desk');
    await say('what is next', null);
  }
  return session.entries.slice(0, REPLAYED_ENTRIES);
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
