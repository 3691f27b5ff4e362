/** What the record says of something that was not carried out. */
import { fault } from '../domain';
import type { Fault, RoomOrder } from '../domain';

/** Why nothing was made of what was heard. */
export function notUnderstood(
  hasTwoVoices = false,
  [first, second]: readonly string[] = [],
): Fault {
  if (hasTwoVoices) return fault('phrase-of-two');
  return first !== undefined && second !== undefined
    ? fault('phrase-in-doubt', { first, second })
    : fault('phrase-not-understood');
}

/** Whether the wall asks for what was refused to be said again. */
export function isSaidAgain(code: string): boolean {
  return code === 'phrase-in-doubt' || code === 'phrase-of-two';
}

/** A number that no record can hold, such as one that a field could not read, is kept as a word: one such order must not stop all saving. */
export function toStorable(order: RoomOrder): RoomOrder {
  return JSON.parse(
    JSON.stringify(order, (_, value: unknown) =>
      typeof value === 'number' && !Number.isFinite(value) ? String(value) : value,
    ),
  ) as RoomOrder;
}
