/**
 * Every phrase that a file brings, with its place: none may be one that the wall itself
 * answers to, two that can always be said must differ, and the listener must know every word.
 */
import type { Capture, Expanded, Step } from '../expanded';
import type { Procedure } from '../format';
import type { Pronounce } from '../sound-distance';
import {
  CHANGE_WORDS, COMMON, CONFIRM_WORDS, CORRECT_WORDS, KEEP_WORDS, READ_WORDS, RESUME_WORDS, WITHDRAW_WORDS,
} from '../vocabulary'; // prettier-ignore
import { found } from './finding';
import type { Finding } from './finding';

/** What one says first where the site has chosen no other phrase; the voice's default. */
export const USUAL_ADDRESS_PHRASE = 'theatre wall';

interface Spoken {
  readonly path: string;
  readonly words: string;
  /** Whether it can be said at any time, whatever step is in hand. */
  readonly isAlways?: boolean;
}

const WALL_PHRASES: readonly string[] = [
  ...COMMON.map(({ words }) => words),
  CONFIRM_WORDS,
  WITHDRAW_WORDS,
  KEEP_WORDS,
  RESUME_WORDS,
];

/** The wall puts these before words of the file: "correct two four", "hold for imaging". */
const WALL_BEGINNINGS = [CORRECT_WORDS, 'hold for'];

/** Checks the phrases as written; what depends on the moment is for the walk. */
export function checkSpoken(
  procedure: Procedure,
  expanded: Expanded,
  addressPhrase = USUAL_ADDRESS_PHRASE,
): readonly Finding[] {
  const spoken = listSpoken(procedure, expanded);
  const changing = expanded.captures.flatMap(({ say }) => [
    `${CHANGE_WORDS} ${say}`,
    `${READ_WORDS} ${say}`,
  ]);
  return [
    ...spoken.flatMap(({ path, words }) => {
      const taken =
        [...WALL_PHRASES, ...changing].find((phrase) => phrase === words) ??
        [...WALL_BEGINNINGS, addressPhrase].find((start) => `${words} `.startsWith(`${start} `)) ??
        (` ${words} `.includes(` ${addressPhrase} `) ? addressPhrase : undefined);
      return taken === undefined
        ? []
        : [found('phrase-of-the-wall', path, `words other than “${taken}”`, words)];
    }),
    ...findTwice(spoken.filter(({ isAlways }) => isAlways)),
  ];
}

/** Words that the listener's dictionary lacks. */
export function checkWords(
  procedure: Procedure,
  expanded: Expanded,
  pronounce: Pronounce,
): readonly Finding[] {
  return listSpoken(procedure, expanded).flatMap(({ path, words }) =>
    words
      .split(' ')
      .filter((word) => !pronounce(word))
      .map((word) => found('not-pronounceable', path, 'words that the listener knows', word)),
  );
}

function findTwice(spoken: readonly Spoken[]): readonly Finding[] {
  const first = new Map<string, string>();
  return spoken.flatMap(({ path, words }) => {
    const earlier = first.get(words);
    if (earlier === undefined) first.set(words, path);
    return earlier === undefined || earlier === path
      ? []
      : [found('phrase-twice', path, `words other than those of ${earlier}`, words)];
  });
}

function listSpoken(procedure: Procedure, expanded: Expanded): readonly Spoken[] {
  const { tracks, timers, tallies, countItems } = procedure;
  const maybe = (path: string, words: string | null | undefined): Spoken[] =>
    words ? [{ path, words }] : [];
  return [
    ...tracks.flatMap(({ id, doneSay, backSay }) => [
      { path: `tracks.${id}.doneSay`, words: doneSay, isAlways: true },
      { path: `tracks.${id}.backSay`, words: backSay, isAlways: true },
    ]),
    ...tallies.map(({ id, say }) => ({ path: `tallies.${id}.say`, words: say, isAlways: true })),
    ...procedure.holdReasons.map(({ id, say }) => ({ path: `holdReasons.${id}.say`, words: say })),
    ...expanded.steps.flatMap(spokenOfStep),
    ...expanded.alternatives.map(({ id, say }) => ({ path: `alternatives.${id}.say`, words: say })),
    ...expanded.captures.flatMap(spokenOfCapture),
    ...timers.flatMap(({ id, startSay, stopSay, answerSay }) => [
      ...maybe(`timers.${id}.startSay`, startSay),
      ...maybe(`timers.${id}.stopSay`, stopSay),
      ...maybe(`timers.${id}.answerSay`, answerSay),
    ]),
    ...countItems.map(({ id, say }) => ({ path: `countItems.${id}.say`, words: say })),
  ];
}

function spokenOfStep(step: Step): readonly Spoken[] {
  const path = `steps.${step.id}`;
  const { say, optional, ahead, exit, checklist } = step;
  return [
    // Until it was done, the words of a step on the main line can always be said.
    ...(say ? [{ path: `${path}.say`, words: say, isAlways: step.alternative === null }] : []),
    ...(optional ? [{ path: `${path}.optional.say`, words: optional.say }] : []),
    ...(ahead ? [{ path: `${path}.ahead.say`, words: ahead.say }] : []),
    ...(exit?.itemsDone === 0
      ? [{ path: `repeats.${exit.group}.endSay`, words: exit.endSay }]
      : []),
    ...checklist.flatMap((item) =>
      item.say ? [{ path: `${path}.checklist.${item.id}.say`, words: item.say }] : [],
    ),
  ];
}

function spokenOfCapture(capture: Capture): readonly Spoken[] {
  const path = `captures.${capture.id}`;
  return [
    { path: `${path}.say`, words: capture.say },
    ...(capture.kind === 'choice'
      ? capture.options.map(({ id, say }) => ({ path: `${path}.options.${id}.say`, words: say }))
      : []),
  ];
}
