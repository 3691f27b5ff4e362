/** Makes the view of checklists, counts, tallies, timers, roles and other ways on. Pure. */
import { asId } from '../domain';
import type { CountId, CountItemId, RoleId, TallyId, TimerId } from '../domain';
import { contextOf, isFree, positionOf, valueToText } from '../procedure';
import { expectedOf, listCountsReached, listOpenCounts } from '../procedure';
import type { CompiledProcedure, Step } from '../procedure';
import type { CaseFacts } from './case-facts';
import { viewChangeable, viewReliance } from './view/reliance-view';
import { intervalMs } from './timer-facts';
import type {
  AgainView,
  ChecklistView,
  CountView,
  SurroundingsView,
  TimerView,
} from './view/view-around';

/** Everything around the steps as it stands now. */
export function makeSurroundings(compiled: CompiledProcedure, facts: CaseFacts): SurroundingsView {
  const { procedure } = compiled;
  const context = contextOf(facts.state);
  return {
    checklists: stepsInHand(compiled, facts).flatMap((step) =>
      viewChecklist(compiled, facts, step),
    ),
    counts: viewCounts(compiled, facts),
    handedOut: procedure.countItems.map(({ id, label }) => {
      const out = context.handedOut[asId<CountItemId>(id)];
      return { item: asId(id), label, first: out?.first ?? null, added: out?.added ?? 0 };
    }),
    isReliefDue: context.isReliefDue,
    tallies: procedure.tallies.map(({ id, label, say }) => ({
      tally: asId(id),
      label,
      say,
      total: facts.tallies[asId<TallyId>(id)] ?? 0,
    })),
    timers: viewTimers(compiled, facts),
    idleTimers: procedure.timers
      .filter(({ id }) => !(asId<TimerId>(id) in context.running))
      .map(({ id, label, startSay }) => ({ timer: asId(id), label, startSay: startSay ?? null })),
    roleHolders: procedure.roles.map(({ id, title, countsOnRelief }) => ({
      role: asId(id),
      title,
      label: holderOf(facts, id),
      countsOnRelief,
    })),
    alternatives: viewAlternatives(compiled, facts),
    again: viewAgain(compiled, facts),
    reliance: viewReliance(compiled, facts),
    changeable: viewChangeable(compiled, facts),
    undoable: context.isClockHeld ? null : (facts.moves.last?.order ?? null),
  };
}

function holderOf({ roles, setup }: CaseFacts, role: string): string {
  return (
    roles[asId<RoleId>(role)] ?? setup?.roles.find((other) => other.role === role)?.label ?? ''
  );
}

function stepsInHand(compiled: CompiledProcedure, facts: CaseFacts): readonly Step[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, facts.state, track);
    return position.kind === 'doing' ? [position.step] : [];
  });
}

function viewChecklist(
  { procedure }: CompiledProcedure,
  facts: CaseFacts,
  step: Step,
): readonly ChecklistView[] {
  if (step.checklist.length === 0) return [];
  const { checks } = contextOf(facts.state);
  const items = step.checklist.map(({ id, text, by, say }) => ({
    item: asId<ChecklistView['items'][number]['item']>(id),
    text,
    by: procedure.roles.find((role) => role.id === by)?.title ?? by,
    say: say ?? null,
    answer: checks[`${step.id}/${id}`] ?? null,
  }));
  return [{ step: step.id, track: step.track, title: step.title, items }];
}

function viewCounts(compiled: CompiledProcedure, facts: CaseFacts): readonly CountView[] {
  const { procedure } = compiled;
  const { state, countValues } = facts;
  const context = contextOf(state);
  const reached = listCountsReached({ compiled, context, state });
  const inHand = stepsInHand(compiled, facts);
  return listOpenCounts(procedure, context, reached).map(({ id, title, kind }) => {
    const count = asId<CountId>(id);
    const track = inHand.find((step) => step.count === count)?.track ?? null;
    return {
      count,
      title,
      kind,
      track,
      isNow: kind === 'relief' || track !== null,
      items: procedure.countItems.map(({ id: itemId, label, say, usual }) => {
        const item = asId<CountItemId>(itemId);
        return {
          item,
          label,
          say,
          expected: kind === 'baseline' ? usual : expectedOf(context, item),
          value: countValues[count]?.[item] ?? null,
          result: context.counted[count]?.[item] ?? null,
        };
      }),
    };
  });
}

function viewTimers({ procedure }: CompiledProcedure, facts: CaseFacts): readonly TimerView[] {
  return procedure.timers.flatMap((spec): TimerView[] => {
    const fact = facts.timers[asId<TimerId>(spec.id)];
    if (!fact || fact.stoppedSeq !== null) return [];
    const every = intervalMs(spec, facts.setup);
    const due = {
      never: fact.dues > 0 ? null : { from: fact.startedAt, afterMs: every },
      'from-start': { from: fact.startedAt, afterMs: every * (fact.dues + 1) },
      'from-answer': fact.isDue ? null : { from: fact.countsFrom, afterMs: every },
    }[spec.repeat];
    return [
      {
        timer: fact.timer,
        label: spec.label,
        remind: spec.remind,
        since: fact.startedAt,
        due,
        isDue: fact.isDue,
        answerSay: spec.answerSay ?? null,
        stopSay: spec.stopSay ?? null,
      },
    ];
  });
}

function viewAlternatives(
  compiled: CompiledProcedure,
  facts: CaseFacts,
): SurroundingsView['alternatives'] {
  const { chosen } = contextOf(facts.state);
  return [...compiled.alternatives.values()].flatMap(({ id, track, at, label, say, why }) => {
    const position = positionOf(compiled, facts.state, track);
    const isOpen = position.kind !== 'done' && at.includes(position.step.id) && !(id in chosen);
    return isOpen ? [{ alternative: id, track, label, say, why }] : [];
  });
}

function viewAgain({ captures }: CompiledProcedure, facts: CaseFacts): readonly AgainView[] {
  const { changing, doubtful, confirmed } = contextOf(facts.state);
  return [...captures.values()].flatMap((capture): AgainView[] => {
    const why = capture.id === changing ? 'changing' : capture.id in doubtful ? 'doubtful' : null;
    const value = confirmed[capture.id];
    if (!why || value === undefined) return [];
    const text = valueToText(capture, value);
    const say = isFree(capture) ? '' : capture.say;
    return [{ capture: capture.id, label: capture.label, text, value, why, say }];
  });
}
