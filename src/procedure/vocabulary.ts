/**
 * What may be said at this moment, made from the machine: the commands, the sizes
 * that are wanted with their legal values, the answers to an open read-back, and
 * the steps that begin on their own words (also while held, so that the refusal
 * can say why). Nothing else is in the listener's grammar.
 */
import { asId } from '../domain';
import type { CaptureId, CaptureValue, Order, SpokenOrder } from '../domain';
import type { CompiledProcedure } from './compile';
import { isSettled } from './conditions';
import type { CaseContext } from './context';
import type { Capture, Step } from './expanded';
import { aroundPhrases } from './vocabulary-around';
import { contextOf, isClosed, positionOf } from './state';
import type { CaseState } from './state';
import { isFree, listLegalValues } from './values-of';

/** Commands that mean the same in every procedure. */
export const COMMON: readonly SpokenOrder[] = [
  { words: 'what is next', order: { type: 'question.ask', question: 'next' } },
  { words: 'say again', order: { type: 'question.ask', question: 'repeat' } },
  { words: 'read the sizes', order: { type: 'question.ask', question: 'sizes' } },
  { words: 'mute voice', order: { type: 'announcer.mute' } },
  { words: 'voice on', order: { type: 'announcer.unmute' } },
  { words: 'undo last order', order: { type: 'order.undo' } },
];

/** Questions about the planning sheet: only where a direction is marked, so that other grammars stay small. */
const PLAN_QUESTIONS: readonly SpokenOrder[] = [
  { words: 'what is the plan', order: { type: 'question.ask', question: 'plan' } },
  { words: 'how far off is fine', order: { type: 'question.ask', question: 'tolerance' } },
];

/** Words that answer a read-back, and that change a settled size. */
export const CONFIRM_WORDS = 'confirm';
export const CORRECT_WORDS = 'correct';
export const WITHDRAW_WORDS = 'wrong cancel that';
export const CHANGE_WORDS = 'change';
/** Words that ask for one size: "read the post". */
export const READ_WORDS = 'read the';
export const KEEP_WORDS = 'leave it as it was';
export const RESUME_WORDS = 'resume the clock';

/** Lists every phrase that means something now, each once. */
export function listPhrases(compiled: CompiledProcedure, state: CaseState): readonly SpokenOrder[] {
  if (isClosed(state)) return [];
  return [
    ...readBackPhrases(compiled, state),
    ...listOpenCaptures(compiled, state).flatMap(valuePhrases),
    ...changePhrases(compiled, state),
    ...sizePhrases(compiled, state),
    ...beginPhrases(compiled, state),
    ...trackPhrases(compiled, state),
    ...aroundPhrases(compiled, state),
    ...clockPhrases(compiled, state),
    ...COMMON,
    ...([...compiled.captures.values()].some(({ kind }) => kind === 'clock') ? PLAN_QUESTIONS : []),
  ];
}

/** The words that offer a value for a capture, the safest first: "depth two four". */
export function wordsForValue(capture: Capture, value: CaptureValue): readonly string[] {
  const legal = listLegalValues(capture).find((candidate) => candidate.value === value);
  if (!legal) return [];
  return capture.kind === 'report'
    ? legal.words
    : legal.words.map((words) => `${capture.say} ${words}`);
}

/** The captures that can be offered now: of the steps in hand, changed, or in doubt. */
export function listOpenCaptures(
  compiled: CompiledProcedure,
  state: CaseState,
): readonly Capture[] {
  const { changing, doubtful } = contextOf(state);
  const inHand = compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    return position.kind === 'doing' ? position.step.captures : [];
  });
  const again = [...(changing ? [changing] : []), ...(Object.keys(doubtful) as CaptureId[])];
  return [...new Set([...inHand, ...again])].flatMap((id) => compiled.captures.get(id) ?? []);
}

function readBackPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const { offered } = contextOf(state);
  const capture = offered && compiled.captures.get(offered.capture);
  if (!capture) return [];
  const corrections =
    capture.kind === 'report'
      ? []
      : listLegalValues(capture).flatMap(({ value, words }) =>
          words.map((said): SpokenOrder => ({
            words: `${CORRECT_WORDS} ${said}`,
            order: { type: 'capture.offer', capture: capture.id, value },
          })),
        );
  return [
    { words: CONFIRM_WORDS, order: { type: 'capture.confirm' } },
    { words: WITHDRAW_WORDS, order: { type: 'capture.withdraw' } },
    ...corrections,
  ];
}

function valuePhrases(capture: Capture): readonly SpokenOrder[] {
  return listLegalValues(capture).flatMap(({ value }) =>
    wordsForValue(capture, value).map((words): SpokenOrder => ({
      words,
      order: { type: 'capture.offer', capture: capture.id, value },
    })),
  );
}

/** One phrase for each settled size; its values may be said once it is being changed. */
function changePhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const context = contextOf(state);
  if (context.offered) return [];
  if (context.changing) return [{ words: KEEP_WORDS, order: { type: 'capture.keep' } }];
  return listSettledSizes(compiled, context).map(({ id, say }) => ({
    words: `${CHANGE_WORDS} ${say}`,
    order: { type: 'capture.change', capture: id },
  }));
}

/** One phrase for each settled size, at any time: "read the post". */
function sizePhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return listSettledSizes(compiled, contextOf(state)).map(({ id, say }) => ({
    words: `${READ_WORDS} ${say}`,
    order: { type: 'question.ask', question: 'size', capture: id },
  }));
}

/** Settled sizes by the words that name them; of those that share them, such as of each screw, the latest. */
function listSettledSizes(
  { captures }: CompiledProcedure,
  context: CaseContext,
): readonly Capture[] {
  const settled = [...captures.values()].filter(
    (capture) => capture.row !== undefined && !isFree(capture) && isSettled(context, capture.id),
  );
  return [...new Map(settled.map((capture) => [capture.say, capture])).values()];
}

function beginPhrases({ steps }: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const { passed, chosen } = contextOf(state);
  return [...steps.values()].flatMap(({ id, say, alternative }): SpokenOrder[] =>
    say && !(id in passed) && (alternative === null || alternative in chosen)
      ? [{ words: say, order: { type: 'step.begin', step: id } }]
      : [],
  );
}

function trackPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return compiled.procedure.tracks.flatMap(({ id, doneSay, backSay }): SpokenOrder[] => {
    const track = asId<Step['track']>(id);
    const position = positionOf(compiled, state, track);
    const step = position.kind === 'done' ? null : position.step;
    return [
      { words: doneSay, order: { type: 'step.finish', track } },
      { words: backSay, order: { type: 'step.goBack', track } },
      ...(step ? waysOn(compiled, state, step) : []),
    ];
  });
}

/** Ways on from a step other than finishing it. */
function waysOn(compiled: CompiledProcedure, state: CaseState, step: Step): SpokenOrder[] {
  const { chosen, passed } = contextOf(state);
  const ending: Order | null = step.exit && { type: 'group.finish', group: step.exit.group };
  const line = compiled.stepsOfTrack.get(step.track) ?? [];
  const later = line.slice(line.indexOf(step) + 1);
  return [
    ...(step.exit && ending ? [{ words: step.exit.endSay, order: ending }] : []),
    ...(step.optional
      ? [{ words: step.optional.say, order: { type: 'step.leaveOut', step: step.id } as const }]
      : []),
    ...later.flatMap(({ id, ahead }): SpokenOrder[] =>
      ahead && !(id in passed)
        ? [{ words: ahead.say, order: { type: 'step.reportAhead', step: id } }]
        : [],
    ),
    ...[...compiled.alternatives.values()].flatMap(({ id, at, say }): SpokenOrder[] =>
      at.includes(step.id) && !(id in chosen)
        ? [{ words: say, order: { type: 'alternative.choose', alternative: id } }]
        : [],
    ),
  ];
}

function clockPhrases({ procedure }: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return contextOf(state).isClockHeld
    ? [{ words: RESUME_WORDS, order: { type: 'clock.resume' } }]
    : procedure.holdReasons.map(({ label, say }) => ({
        words: `hold for ${say}`,
        order: { type: 'clock.hold', reason: label },
      }));
}
