/** What is said on screen about recordings and how they are told apart. */
import type { TakeFlaw } from '../../domain';
import type { ApartLine } from '../card-services';

/** What was wrong with a recording, and what to do. */
export const FLAW_TEXTS: Readonly<Record<TakeFlaw, string>> = {
  'too-quiet': 'Too quiet. Speak up, or come nearer to the microphone.',
  clipped: 'Too loud for the microphone. Move away from it, or turn it down.',
  noisy: 'Too much noise around it. Wait until the room is quieter, or come nearer.',
  'too-short': 'Too short for these words. Say all of them.',
  'too-long': 'Too long for these words. Say only what is shown, without a pause.',
};

/** How well a phrase is told apart, in a word or two. */
export const APART_TEXTS: Readonly<Record<ApartLine['apart'], string>> = {
  well: 'well',
  close: 'only just',
  'mixed-up': 'not',
  once: 'read only once',
};

/** The pairs that are told apart badly, each once, in a sentence. */
export function listBadPairs(rows: readonly ApartLine[]): readonly string[] {
  const seen = new Set<string>();
  return rows.flatMap(({ text, nearest, apart }) => {
    if (nearest === null || (apart !== 'mixed-up' && apart !== 'close')) return [];
    const pair = [text, nearest].sort().join('|');
    if (seen.has(pair)) return [];
    seen.add(pair);
    return apart === 'mixed-up'
      ? [`“${text}” was once said more like “${nearest}” than like itself.`]
      : [`“${text}” and “${nearest}” sound much alike.`];
  });
}

/** The texts that are worth reading again: both of each bad pair, and what was read only once. */
export function listTextsToRepeat(rows: readonly ApartLine[]): readonly string[] {
  const bad = rows.filter(({ apart }) => apart !== 'well');
  const texts = bad.flatMap(({ text, nearest, apart }) =>
    apart === 'once' || nearest === null ? [text] : [text, nearest],
  );
  return [...new Set(texts)];
}
