/**
 * How often speech was taken right at the first attempt. An attempt begins with
 * a phrase that was heard. It is right when it was carried out and, where it
 * offered a size, when that very size was confirmed; and when neither was taken back
 * as the last order. Speech that a listener could
 * make nothing of counts against nobody's phrase in particular.
 */
import { addToCards, cardsNow, NO_CARDS } from '../../domain';
import type { CaseCards, Entry, Outline } from '../../domain';
import type { SpeechDigest } from './case-digest';

/** Under this name stands speech that was not understood. */
export const NOT_UNDERSTOOD = 'not understood';
const UNKNOWN_PERSON = 'unknown';

type Attempt = {
  readonly person: string;
  readonly phrase: string;
  isRight: boolean;
  /** The entry in which the phrase was heard. */
  readonly heardAt: number;
  /** The entry that confirmed its size. */
  confirmedAt?: number;
};

/** Attempts by person and phrase. */
export function digestSpeech(
  entries: readonly Entry[],
  { captures }: Pick<Outline, 'captures'>,
): readonly SpeechDigest[] {
  const labels = new Map<string, string>(captures.map(({ id, label }) => [id, label]));
  let cards = NO_CARDS;
  let person = personsOf(cards);
  const attempts: Attempt[] = [];
  /** Attempts whose size waits for its answer. */
  const open = new Map<string, Attempt>();
  let heard: { readonly words: string; readonly seq: number } | null = null;
  const attempt = (phrase: string, heardAt: number, isRight: boolean) => {
    const made: Attempt = { person, phrase, isRight, heardAt };
    attempts.push(made);
    return made;
  };
  for (const entry of entries) {
    const cardsAfter = addToCards(cards, entry);
    if (cardsAfter !== cards) person = personsOf((cards = cardsAfter));
    switch (entry.type) {
      case 'phrase.heard': {
        const { words } = entry.data;
        if (words === null) attempt(NOT_UNDERSTOOD, entry.seq, false);
        heard = words === null ? null : { words, seq: entry.seq };
        continue;
      }
      case 'order.refused':
        if (heard) attempt(heard.words, heard.seq, false);
        break;
      case 'capture.offered': {
        const before = open.get(entry.data.capture);
        if (before) before.isRight = false;
        open.delete(entry.data.capture);
        if (!heard || entry.source !== 'voice') break;
        const { capture } = entry.data;
        open.set(capture, attempt(labels.get(capture) ?? capture, heard.seq, false));
        break;
      }
      case 'capture.confirmed': {
        const offer = open.get(entry.data.capture);
        if (offer) {
          offer.isRight = true;
          offer.confirmedAt = entry.seq;
        }
        open.delete(entry.data.capture);
        if (heard) attempt(heard.words, heard.seq, true);
        break;
      }
      case 'capture.withdrawn':
      case 'capture.lapsed':
        open.delete(entry.data.capture);
        break;
      case 'order.undone':
        takeBack(attempts, entry.data.since);
        if (heard) attempt(heard.words, heard.seq, true);
        break;
      default:
        if (heard) attempt(heard.words, heard.seq, true);
    }
    heard = null;
  }
  return countAttempts(attempts);
}

/** The phrase that gave the order was not right after all, nor was a size that it confirmed. */
function takeBack(attempts: readonly Attempt[], since: number): void {
  for (const attempt of attempts)
    if (attempt.heardAt === since || (attempt.confirmedAt ?? -1) >= since) attempt.isRight = false;
}

function countAttempts(attempts: readonly Attempt[]): readonly SpeechDigest[] {
  const rows = new Map<string, SpeechDigest>();
  for (const { person, phrase, isRight } of attempts) {
    const key = `${person}\n${phrase}`;
    const row = rows.get(key) ?? { person, phrase, attempts: 0, first: 0 };
    rows.set(key, {
      ...row,
      attempts: row.attempts + 1,
      first: row.first + (isRight ? 1 : 0),
    });
  }
  return [...rows.values()];
}

/** Those with whose cards the wall hears just then; which of several spoke nobody knows, nor who did without one. */
function personsOf(cards: CaseCards): string {
  const labels = cardsNow(cards).map(({ label }) => label);
  return labels.length === 0 ? UNKNOWN_PERSON : labels.join(' or ');
}
