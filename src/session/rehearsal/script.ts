/**
 * What the people of a rehearsal say, in order: invented, by role. Recorded clips
 * of these words are played to the real listener. `talk` is said without the address
 * phrase and must do nothing.
 */
import type { RoomOrder } from '../../domain';

/** Whose voice a line is spoken in. */
export type Speaker = 'surgeon' | 'scrub';

export interface RehearsalLine {
  readonly who: Speaker;
  readonly words: string;
  readonly isTalk: boolean;
  /** Silence before it, in milliseconds. */
  readonly pauseMs: number;
  /** Typed or scanned at the desk instead of said. */
  readonly desk?: RoomOrder;
  /** The order must be refused, with this code. */
  readonly refusedAs?: string;
}

const SHORT_MS = 700;
const WORK_MS = 2_500;

const surgeon = (words: string, pauseMs = SHORT_MS): RehearsalLine => ({
  who: 'surgeon',
  words,
  isTalk: false,
  pauseMs,
});
const scrub = (words: string, pauseMs = SHORT_MS): RehearsalLine => ({
  who: 'scrub',
  words,
  isTalk: false,
  pauseMs,
});
const talk = (words: string): RehearsalLine => ({
  who: 'surgeon',
  words,
  isTalk: true,
  pauseMs: SHORT_MS,
});
const work = (words: string): RehearsalLine => surgeon(words, WORK_MS);

/** The words that take back a read-back, said by an actor who was misheard. */
export const TAKE_BACK: RehearsalLine = surgeon('wrong cancel that');

/** The demo case: a wedge, a loop, a refused baseplate, a size taken back, two screws. */
export const REVERSE_SHOULDER_REHEARSAL: readonly RehearsalLine[] = [
  work('step done'),
  talk('could we have the light a little lower please'),
  work('step done'),
  work('pin placed'), surgeon('confirm'),
  work('wedge two four'), surgeon('correct one six'), surgeon('confirm'),
  work('direction ten thirty'), surgeon('confirm'),
  scrub('reamer ready'), scrub('confirm'),
  work('step done'),
  surgeon('what is next'),
  work('step done'),
  work('trial still rocks'), surgeon('confirm'),
  work('step done'),
  work('trial seats evenly'), surgeon('confirm'),
  scrub('plate small'), scrub('confirm'),
  surgeon('insert baseplate'),
  work('depth two eight'), surgeon('wrong cancel that'),
  surgeon('depth two four'), surgeon('confirm'),
  scrub('post two eight'),
  scrub('post two four'), scrub('confirm'),
  work('step done'),
  surgeon('hold for imaging'), work('resume the clock'),
  scrub('press complete'), scrub('confirm'),
  work('pin out'), surgeon('confirm'),
  surgeon('insert baseplate'),
  work('step done'),
  work('fully seated'), surgeon('confirm'),
  surgeon('screw locking'), surgeon('confirm'),
  work('step done'),
  surgeon('length three zero'), surgeon('confirm'),
  work('step done'),
  surgeon('screw non locking'), surgeon('confirm'),
  work('step done'),
  surgeon('length two six'), surgeon('confirm'),
  work('step done'),
  surgeon('no more screws'),
  surgeon('read the sizes'),
  work('step done'),
  work('glenosphere four zero'), surgeon('confirm'),
  scrub('table done', WORK_MS),
  surgeon('place glenosphere'),
  work('step done'),
  work('step done'),
  work('taper checked'), surgeon('confirm'),
  work('step done'),
]; // prettier-ignore

/** Every line that needs a recording, each once. */
export function listRehearsalLines(): readonly RehearsalLine[] {
  const lines = [...REVERSE_SHOULDER_REHEARSAL, TAKE_BACK, { ...TAKE_BACK, who: 'scrub' as const }];
  const keys = lines.map(({ who, words }) => `${who}: ${words}`);
  return lines.filter((_, index) => keys.indexOf(keys[index] ?? '') === index);
}
