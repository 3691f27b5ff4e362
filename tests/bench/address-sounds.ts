/** How near a candidate's sounds come to any stretch of theatre talk. */
import { distanceBetween } from '../../src/procedure/sound-distance';
import type { Pronounce } from '../../src/procedure';
import { THEATRE_TALK } from './theatre-talk';

/** The nearest stretch of words, of about the candidate's length, and the edits to it as a part. */
export function nearestInTalk(
  candidate: string,
  pronounce: Pronounce,
): { readonly part: number; readonly words: string } {
  const most = candidate.split(' ').length + 1;
  let nearest = { part: Infinity, words: '' };
  for (const sentence of THEATRE_TALK) {
    const all = sentence.toLowerCase().split(' ');
    for (let from = 0; from < all.length; from += 1)
      for (let count = 1; count <= most && from + count <= all.length; count += 1) {
        const words = all.slice(from, from + count).join(' ');
        // Who says the very words means the wall, or says them as words; talk that holds them is heard below.
        const { part } = distanceBetween(candidate, words, pronounce);
        if (part < nearest.part && words !== candidate) nearest = { part, words };
      }
  }
  return nearest;
}
