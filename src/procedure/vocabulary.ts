/**
 * What may be said at this moment, made from the machine: the commands, the sizes
 * that are wanted with their legal values, the answers to an open read-back, and
 * the steps that begin on their own words (also while held, so that the refusal
 * can say why). Nothing else is in the listener's grammar.
 */
import type { CaptureValue, Order, SpokenOrder } from '../domain';
import type { CompiledProcedure } from './compile';
import type { Capture } from './expand';
import { contextOf, isClosed, positionOf } from './state';
import type { CaseState } from './state';
import { listLegalValues } from './values-of';

/** Commands that mean the same in every procedure. */
const COMMON: readonly SpokenOrder[] = [
  { words: 'what is next', order: { type: 'question.ask', question: 'next' } },
  { words: 'say again', order: { type: 'question.ask', question: 'repeat' } },
  { words: 'read the sizes', order: { type: 'question.ask', question: 'sizes' } },
  { words: 'mute voice', order: { type: 'announcer.mute' } },
  { words: 'voice on', order: { type: 'announcer.unmute' } },
];

/** Words that answer a read-back. */
export const CONFIRM_WORDS = 'confirm';
export const CORRECT_WORDS = 'correct';
export const WITHDRAW_WORDS = 'wrong cancel that';

/** Lists every phrase that means something now, each once. */
export function listPhrases(compiled: CompiledProcedure, state: CaseState): readonly SpokenOrder[] {
  if (isClosed(state)) return [];
  return [
    ...readBackPhrases(compiled, state),
    ...capturePhrases(compiled, state),
    ...stepPhrases(compiled, state),
    ...clockPhrases(compiled, state),
    ...COMMON,
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

function capturePhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return compiled.tracks.flatMap((track) => {
    const position = positionOf(compiled, state, track);
    if (position.kind !== 'doing') return [];
    return position.step.captures.flatMap((id) => {
      const capture = compiled.captures.get(id);
      if (!capture) return [];
      return listLegalValues(capture).flatMap(({ value }) =>
        wordsForValue(capture, value).map((words): SpokenOrder => ({
          words,
          order: { type: 'capture.offer', capture: id, value },
        })),
      );
    });
  });
}

function stepPhrases(compiled: CompiledProcedure, state: CaseState): SpokenOrder[] {
  const { passed } = contextOf(state);
  const begins = [...compiled.steps.values()].flatMap(({ id, say }): SpokenOrder[] =>
    say && !(id in passed) ? [{ words: say, order: { type: 'step.begin', step: id } }] : [],
  );
  const moves = compiled.procedure.tracks.flatMap((track, index): SpokenOrder[] => {
    const id = compiled.tracks[index];
    if (!id) return [];
    const position = positionOf(compiled, state, id);
    const exit = position.kind === 'done' ? null : position.step.exit;
    const ending: Order | null = exit && { type: 'group.finish', group: exit.group };
    return [
      { words: track.doneSay, order: { type: 'step.finish', track: id } },
      { words: track.backSay, order: { type: 'step.goBack', track: id } },
      ...(exit && ending ? [{ words: exit.endSay, order: ending }] : []),
    ];
  });
  return [...begins, ...moves];
}

function clockPhrases({ procedure }: CompiledProcedure, state: CaseState): SpokenOrder[] {
  return contextOf(state).isClockHeld
    ? [{ words: 'resume the clock', order: { type: 'clock.resume' } }]
    : procedure.holdReasons.map(({ label, say }) => ({
        words: `hold for ${say}`,
        order: { type: 'clock.hold', reason: label },
      }));
}
