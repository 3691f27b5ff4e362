/** Phrases about what surrounds the steps: checklists, counts, timers and tallies. */
import { asId } from '../domain';
import type { CountId, CountItemId, SpokenOrder, TimerId } from '../domain';
import type { CompiledProcedure } from './compile';
import { expectedOf, listOpenCounts } from './counts';
import { listCountsReached } from './decide-around';
import { listOpenChecks } from './finishing';
import { contextOf, positionOf } from './state';
import type { CaseState } from './state';

/** What may be said of checklists, counts, timers and tallies now. */
export function aroundPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return [
    ...checkPhrases(compiled, state),
    ...countPhrases(compiled, state),
    ...timerPhrases(compiled, state),
    ...compiled.procedure.tallies.map(({ id, say }): SpokenOrder => ({
      words: say,
      order: { type: 'tally.add', tally: asId(id), by: 1 },
    })),
  ];
}

function checkPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return [];
    const { step } = position;
    return listOpenChecks(step, contextOf(state)).flatMap(({ id, say }): SpokenOrder[] =>
      say
        ? [
            {
              words: say,
              order: { type: 'check.answer', step: step.id, item: asId(id), answer: 'yes' },
            },
          ]
        : [],
    );
  });
}

/** "Swab count agrees", "swab count differs": of the count in hand, and of one that differed. */
function countPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const context = contextOf(state);
  const open = listOpenCounts(
    compiled.procedure,
    context,
    listCountsReached({ compiled, context, state }),
  );
  const current = open.findLast(({ id }) => {
    const results = Object.values(context.counted[asId<CountId>(id)] ?? {});
    return results.length < compiled.procedure.countItems.length || results.includes('differs');
  });
  if (!current) return [];
  const count = asId<CountId>(current.id);
  return compiled.procedure.countItems.flatMap(({ id, say, usual }): SpokenOrder[] => {
    const item = asId<CountItemId>(id);
    const isFirst = current.kind === 'baseline';
    const expected = isFirst ? usual : expectedOf(context, item);
    if (expected === null) return [];
    const agrees: SpokenOrder = {
      words: `${say} count agrees`,
      order: { type: 'count.record', count, item, value: expected },
    };
    return isFirst
      ? [agrees]
      : [
          agrees,
          {
            words: `${say} count differs`,
            order: { type: 'count.record', count, item, value: null },
          },
        ];
  });
}

function timerPhrases({ procedure }: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const { running } = contextOf(state);
  return procedure.timers.flatMap(({ id, startSay, stopSay, answerSay }): SpokenOrder[] => {
    const timer = asId<TimerId>(id);
    const say = (words: string | undefined, type: 'timer.start' | 'timer.stop' | 'timer.answer') =>
      words === undefined ? [] : [{ words, order: { type, timer } }];
    return timer in running
      ? [...say(stopSay, 'timer.stop'), ...say(answerSay, 'timer.answer')]
      : say(startSay, 'timer.start');
  });
}
