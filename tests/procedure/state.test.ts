/** One transition: the same as XState's own, which makes its surroundings anew each time. */
import { transition } from 'xstate';
import { expect, it } from 'vitest';
import { applyFact, initialState, isAccepted, loadBuiltIn } from '../../src/procedure';
import { isMachineFact } from '../../src/procedure/machine-facts';
import { openSampleCase } from '../support/sample-case';
import { walkTo } from '../support/walk-case';

it.each(['reverse-shoulder-glenoid', 'reverse-shoulder'])(
  '[PRO62] moves %s fact by fact as XState’s own function does',
  async (id) => {
    const loaded = loadBuiltIn(id);
    if (!loaded.ok) throw new Error(loaded.error.code);
    const { value: compiled } = loaded;
    const sample = await openSampleCase({ procedure: id });
    const [line] = sample.session.view.tracks;
    const last = line?.steps.at(-1)?.id;
    if (!line || last === undefined) throw new Error('The procedure has no steps');
    await walkTo(sample, last);
    await sample.session.submit({ type: 'step.goBack', track: line.id }, 'desk');
    await sample.session.submit({ type: 'order.undo' }, 'desk');
    let [ours, theirs] = [initialState(compiled), initialState(compiled)];
    let moves = 0;
    for (const entry of sample.session.entries) {
      expect(isAccepted(ours, entry)).toBe(true);
      ours = applyFact(compiled, ours, entry);
      if (!isMachineFact(entry)) continue;
      moves += 1;
      const fact = { type: entry.type, data: entry.data } as typeof entry;
      [theirs] = transition(compiled.machine, theirs, fact);
      expect([ours.value, ours.context, ours.status]).toEqual([
        theirs.value,
        theirs.context,
        theirs.status,
      ]);
    }
    expect(moves).toBeGreaterThan(compiled.steps.size);
    expect(sample.session.entries.some(({ type }) => type === 'order.undone')).toBe(true);
  },
);
