/**
 * What may be said at one moment, compared pairwise: the same words, the same sounds,
 * nearly the same sounds; and legal numbers that are alike as whole words.
 */
import { numberToWords, soundsLikeAnother } from '../../domain';
import type { SpokenOrder } from '../../domain';
import type { CompiledProcedure } from '../compile';
import type { Exploration } from '../explore';
import { distanceBetween } from '../sound-distance';
import type { Pronounce } from '../sound-distance';
import { CONFIRM_WORDS, KEEP_WORDS, listPhrases, WITHDRAW_WORDS } from '../vocabulary';
import { found } from './finding';
import type { Finding } from './finding';

/** Phrases whose differing words differ in less than this part of their sounds are easily taken for each other. A starting value, to be measured. */
const CLOSE_PART = 0.25;
/** So are those that differ in one sound: thirteen, thirty. */
const CLOSE_SOUNDS = 1;
/** How many pairs of phrases may be compared, so that no file can hold up the program? */
const MOST_PAIRS = 400_000;

/** A read-back can be open at every moment, which the walk leaves out; its corrections are the values anew. */
const READ_BACK: readonly SpokenOrder[] = [
  { words: CONFIRM_WORDS, order: { type: 'capture.confirm' } },
  { words: WITHDRAW_WORDS, order: { type: 'capture.withdraw' } },
  { words: KEEP_WORDS, order: { type: 'capture.keep' } },
];

/** Compares the phrases of every moment that the walk met; without pronunciations, only their words. */
export function checkPhrases(
  compiled: CompiledProcedure,
  { states }: Exploration,
  pronounce: Pronounce | null,
): readonly Finding[] {
  const findings = new Map<string, Finding>();
  const met = new Set<string>();
  let compared = 0;
  for (const state of states.values()) {
    const phrases = [...listPhrases(compiled, state), ...READ_BACK];
    const moment = phrases.map(({ words }) => words).join('|');
    if (met.has(moment)) continue;
    met.add(moment);
    for (const finding of findTwice(phrases)) findings.set(finding.path, finding);
    if (!pronounce) continue;
    for (const [a, b] of pairsOf(phrases)) {
      const pair = `${a.words}|${b.words}`;
      if (met.has(pair)) continue;
      met.add(pair);
      compared += 1;
      if (compared > MOST_PAIRS) return [...findings.values(), cutShort()];
      const finding = compare(a, b, pronounce);
      if (finding) findings.set(pair, finding);
    }
  }
  return [...findings.values()];
}

function cutShort(): Finding {
  return found('walk-cut-short', 'phrases', `at most ${MOST_PAIRS} pairs of phrases`, 'more');
}

/** The same words with two meanings. */
function findTwice(phrases: readonly SpokenOrder[]): readonly Finding[] {
  const meanings = new Map<string, string>();
  return phrases.flatMap(({ words, order }) => {
    const meaning = JSON.stringify(order);
    const other = meanings.get(words);
    meanings.set(words, meaning);
    return other === undefined || other === meaning
      ? []
      : [found('phrase-twice', `“${words}”`, 'one meaning at a time', `${other} and ${meaning}`)];
  });
}

/** Pairs of phrases of one moment whose first words could be heard for one another. */
function* pairsOf(phrases: readonly SpokenOrder[]): Generator<readonly [SpokenOrder, SpokenOrder]> {
  for (const [index, a] of phrases.entries()) {
    for (const b of phrases.slice(index + 1)) yield [a, b];
  }
}

function compare(a: SpokenOrder, b: SpokenOrder, pronounce: Pronounce): Finding | null {
  if (a.words === b.words || JSON.stringify(a.order) === JSON.stringify(b.order)) return null;
  const [first, second] = differingWords(a.words, b.words);
  const { edits, part } = distanceBetween(first, second, pronounce);
  const place = `“${a.words}”`;
  if (edits === 0)
    return found('phrase-same-sound', place, 'words that sound different', `“${b.words}”`);
  if (edits > CLOSE_SOUNDS && part >= CLOSE_PART) return null;
  const sounds = edits === 1 ? 'one sound' : `${edits} sounds`;
  return found(
    'sounds-alike',
    place,
    'words that sound different',
    `“${b.words}”, ${sounds} apart`,
  );
}

/** Two phrases without the words that they begin and end with in common. */
function differingWords(a: string, b: string): readonly [string, string] {
  const [first, second] = [a.split(' '), b.split(' ')];
  while (first.length > 0 && first[0] === second[0]) {
    first.shift();
    second.shift();
  }
  while (first.length > 0 && first.at(-1) === second.at(-1)) {
    first.pop();
    second.pop();
  }
  return [first.join(' '), second.join(' ')];
}

/** Whole numbers that sound alike are only taken digit by digit; the author should know. */
export function checkNumbers(
  { captures }: CompiledProcedure,
  pronounce: Pronounce,
): readonly Finding[] {
  return [...captures.values()].flatMap((capture) => {
    if (capture.kind !== 'number' && capture.kind !== 'quantity') return [];
    const said = capture.values.flatMap((value) => {
      const words = value < 10 ? null : numberToWords(value);
      return words === null ? [] : [{ value, words }];
    });
    return said.flatMap((a, index) =>
      said
        .slice(index + 1)
        .filter((b) => areAlike(a, b, pronounce))
        .map((b) =>
          found(
            'digits-only',
            `captures.${capture.id}.values`,
            'numbers that sound different',
            `“${a.words}” and “${b.words}”`,
          ),
        ),
    );
  });
}

interface SaidNumber {
  readonly value: number;
  readonly words: string;
}

/** The dictionary writes some tens as Americans say them (a D in "thirty"); the rule of the vocabulary knows those too. */
function areAlike(a: SaidNumber, b: SaidNumber, pronounce: Pronounce): boolean {
  const apart = distanceBetween(...differingWords(a.words, b.words), pronounce).edits;
  return apart <= CLOSE_SOUNDS || soundsLikeAnother(a.value, [b.value]);
}
