/**
 * How often speech was taken right at the first attempt. An attempt begins with
 * a phrase that was heard. It is right when it was carried out and, where it
 * offered a size, when that very size was confirmed. Speech that a listener could
 * make nothing of counts against nobody's phrase in particular.
 */
import { addToCards, cardsNow, NO_CARDS } from '../../domain';
import type { CaseCards, Entry, Outline } from '../../domain';
import type { SpeechDigest } from './case-digest';

/** Under this name stands speech that was not understood. */
export const NOT_UNDERSTOOD = 'not understood';
const UNKNOWN_PERSON = 'unknown';

type Attempt = { readonly person: string; readonly phrase: string; isRight: boolean };

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
  let heard: { readonly words: string } | null = null;
  for (const entry of entries) {
    const cardsAfter = addToCards(cards, entry);
    if (cardsAfter !== cards) person = personsOf((cards = cardsAfter));
    switch (entry.type) {
      case 'phrase.heard': {
        const { words } = entry.data;
        if (words === null) attempts.push({ person, phrase: NOT_UNDERSTOOD, isRight: false });
        heard = words === null ? null : { words };
        continue;
      }
      case 'order.refused':
        if (heard) attempts.push({ person, phrase: heard.words, isRight: false });
        break;
      case 'capture.offered': {
        const before = open.get(entry.data.capture);
        if (before) before.isRight = false;
        open.delete(entry.data.capture);
        if (!heard || entry.source !== 'voice') break;
        const { capture } = entry.data;
        const phrase = labels.get(capture) ?? capture;
        const attempt = { person, phrase, isRight: false };
        attempts.push(attempt);
        open.set(capture, attempt);
        break;
      }
      case 'capture.confirmed': {
        const attempt = open.get(entry.data.capture);
        if (attempt) attempt.isRight = true;
        open.delete(entry.data.capture);
        if (heard) attempts.push({ person, phrase: heard.words, isRight: true });
        break;
      }
      case 'capture.withdrawn':
      case 'capture.lapsed':
        open.delete(entry.data.capture);
        break;
      default:
        if (heard) attempts.push({ person, phrase: heard.words, isRight: true });
    }
    heard = null;
  }
  return countAttempts(attempts);
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
