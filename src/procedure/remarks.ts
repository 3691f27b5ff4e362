/**
 * What is wrong, or risky, with a procedure that could run: found by walking its
 * states and listening to its phrases. The schema and the references are check.ts's.
 * Each remark says where, what, and what to do.
 */
import { numberToWords } from '../domain';
import type { CaptureId, StepId } from '../domain';
import type { CompiledProcedure } from './compile';
import { isOpen } from './conditions';
import { explore } from './explore';
import type { Exploration } from './explore';
import { distanceBetween } from './sound-distance';
import type { Pronounce } from './sound-distance';
import { contextOf, positionOf } from './state';
import type { CaseState } from './state';
import { listPhrases } from './vocabulary';

export interface Remark {
  readonly kind:
    | 'never-begins' | 'no-way-to-the-end' | 'hold-never-opens' | 'value-before-capture' | 'phrase-twice'
    | 'sounds-alike' | 'not-pronounceable' | 'walk-cut-short'; // prettier-ignore
  readonly where: string;
  readonly what: string;
  readonly advice: string;
  /** True where a case could get stuck or an order be taken for another. */
  readonly isFatal: boolean;
}

/** Phrases closer than this part of their sounds are easily taken for each other. A starting value, to be measured. */
const CLOSE = 0.2;
/** Whole-number words that differ in at most one sound: thirteen, thirty. */
const CLOSE_SOUNDS = 1;

/** Remarks on a procedure; `most` bounds the walk. */
export function remarkOn(
  compiled: CompiledProcedure,
  pronounce: Pronounce,
  most = 20_000,
): readonly Remark[] {
  const walk = explore(compiled, { most });
  return [
    ...(walk.isComplete ? [] : [cutShort(walk.states.size)]),
    ...remarkOnSteps(compiled, walk),
    ...remarkOnEnds(compiled, walk),
    ...remarkOnTexts(compiled, walk),
    ...remarkOnNumbers(compiled, pronounce),
    ...remarkOnPhrases(compiled, walk, pronounce),
  ];
}

function cutShort(states: number): Remark {
  return {
    kind: 'walk-cut-short',
    where: 'procedure',
    what: `more than ${states} states; the rest was not looked at`,
    advice: 'Split the operation, or let fewer things happen side by side.',
    isFatal: false,
  };
}

function remarkOnSteps(
  compiled: CompiledProcedure,
  { states, isComplete }: Exploration,
): readonly Remark[] {
  if (!isComplete) return [];
  const begun = new Set<StepId>();
  const opened = new Set<string>();
  for (const state of states.values()) {
    for (const track of compiled.tracks) {
      const position = positionOf(compiled, state, track);
      if (position.kind === 'doing') begun.add(position.step.id);
    }
    for (const point of compiled.holdPoints.values()) {
      if (point.guards.type === 'capture' || isOpen(compiled, point, contextOf(state)))
        opened.add(point.id);
    }
  }
  return [
    ...[...compiled.steps.keys()]
      .filter((id) => !begun.has(id))
      .map((id): Remark => ({
        kind: 'never-begins',
        where: `steps.${id}`,
        what: 'no sequence of orders reaches this step',
        advice: 'Look at the hold points and loops before it.',
        isFatal: true,
      })),
    ...[...compiled.holdPoints.values()]
      .filter(({ id }) => !opened.has(id))
      .map(({ id }): Remark => ({
        kind: 'hold-never-opens',
        where: `holdPoints.${id}`,
        what: 'its conditions can never be met together',
        advice: 'Ask only for what is captured or finished before it.',
        isFatal: true,
      })),
  ];
}

function remarkOnEnds(
  compiled: CompiledProcedure,
  { states, edges, isComplete }: Exploration,
): readonly Remark[] {
  if (!isComplete) return [];
  const isEnd = (state: CaseState) =>
    compiled.tracks.every((track) => positionOf(compiled, state, track).kind === 'done');
  const before = new Map<string, string[]>();
  for (const [from, targets] of edges) {
    for (const to of targets) before.set(to, [...(before.get(to) ?? []), from]);
  }
  const good = new Set([...states].filter(([, state]) => isEnd(state)).map(([key]) => key));
  const queue = [...good];
  for (let key = queue.pop(); key !== undefined; key = queue.pop()) {
    for (const earlier of before.get(key) ?? []) {
      if (good.has(earlier)) continue;
      good.add(earlier);
      queue.push(earlier);
    }
  }
  const stuck = new Set<string>();
  for (const [key, state] of states) {
    if (good.has(key)) continue;
    for (const track of compiled.tracks) {
      const position = positionOf(compiled, state, track);
      if (position.kind !== 'done') stuck.add(position.step.id);
    }
  }
  return [...stuck].map((id): Remark => ({
    kind: 'no-way-to-the-end',
    where: `steps.${id}`,
    what: 'from here the end of the operation can’t be reached without the desk',
    advice: 'Give the loop a way out, or the hold point conditions that can be met.',
    isFatal: true,
  }));
}

function remarkOnTexts(compiled: CompiledProcedure, { states }: Exploration): readonly Remark[] {
  const early = new Set<string>();
  for (const state of states.values()) {
    for (const track of compiled.tracks) {
      const position = positionOf(compiled, state, track);
      if (position.kind !== 'doing') continue;
      const { id, title, detail, cue, captures } = position.step;
      for (const [, name = ''] of `${title} ${detail} ${cue}`.matchAll(/\{([a-z0-9-]+)\}/g)) {
        const capture = name as CaptureId;
        if (!captures.includes(capture) && !(capture in contextOf(state).confirmed))
          early.add(`${id} ${name}`);
      }
    }
  }
  return [...early].map((pair): Remark => {
    const [step = '', name = ''] = pair.split(' ');
    return {
      kind: 'value-before-capture',
      where: `steps.${step}`,
      what: `shows “${name}”, which is not always known by then`,
      advice: 'Capture it before, or put a hold point in front of this step.',
      isFatal: false,
    };
  });
}

/** Whole numbers that sound alike are only taken digit by digit; the author should know. */
function remarkOnNumbers({ captures }: CompiledProcedure, pronounce: Pronounce): readonly Remark[] {
  return [...captures.values()].flatMap((capture) => {
    if (capture.kind !== 'number' && capture.kind !== 'quantity') return [];
    return capture.values.flatMap((value, index) =>
      capture.values.slice(index + 1).flatMap((other): Remark[] => {
        const words = [numberToWords(value), numberToWords(other)];
        const [a, b] = words;
        if (!a || !b || value < 10 || other < 10) return [];
        const { edits } = distanceBetween(a, b, pronounce);
        if (edits > CLOSE_SOUNDS) return [];
        return [
          {
            kind: 'sounds-alike',
            where: `captures.${capture.id}`,
            what: `“${a}” and “${b}” differ in ${edits === 1 ? 'one sound' : 'no sound'}`,
            advice: 'They are taken digit by digit only. Leave one out if the set allows it.',
            isFatal: false,
          },
        ];
      }),
    );
  });
}

function remarkOnPhrases(
  compiled: CompiledProcedure,
  { states }: Exploration,
  pronounce: Pronounce,
): readonly Remark[] {
  const found = new Map<string, Remark>();
  const seen = new Set<string>();
  for (const state of states.values()) {
    const phrases = listPhrases(compiled, state);
    const key = phrases.map(({ words }) => words).join('|');
    if (seen.has(key)) continue;
    seen.add(key);
    for (const [index, { words, order }] of phrases.entries()) {
      for (const word of words.split(' ')) {
        if (!pronounce(word)) found.set(`word ${word}`, unknownWord(word));
      }
      for (const other of phrases.slice(index + 1)) {
        const pair = `${words} / ${other.words}`;
        if (found.has(pair) || JSON.stringify(order) === JSON.stringify(other.order)) continue;
        const remark = compare(words, other.words, pronounce);
        if (remark) found.set(pair, remark);
      }
    }
  }
  return [...found.values()];
}

function compare(a: string, b: string, pronounce: Pronounce): Remark | null {
  if (a === b) {
    return {
      kind: 'phrase-twice',
      where: `“${a}”`,
      what: 'means two things at the same moment',
      advice: 'Give one of them other words.',
      isFatal: true,
    };
  }
  const { edits, part } = distanceBetween(a, b, pronounce);
  if (part >= CLOSE) return null;
  return {
    kind: 'sounds-alike',
    where: `“${a}”`,
    what: `sounds like “${b}”: ${edits} of their sounds differ (${Math.round(part * 100)} %)`,
    advice: 'Choose words that share less; the read-back is the only other guard.',
    isFatal: false,
  };
}

function unknownWord(word: string): Remark {
  return {
    kind: 'not-pronounceable',
    where: `“${word}”`,
    what: 'the listener has no pronunciation for it',
    advice: 'Use another word, or add its sounds to the lexicon.',
    isFatal: true,
  };
}
