/**
 * Which voice cards a case hears with, folded from its entries: those picked at set-up, and
 * those of whoever took a role over since.
 */
import type { Entry } from './entries';
import { OWN_LANGUAGE } from './spoken-language';
import type { NamedCard, PickedCard } from './voice-cards';

/** The cards of a case as its entries tell them; taken-back hand-overs are gone from it. */
export interface CaseCards {
  readonly opened: readonly PickedCard[];
  readonly handedOver: readonly {
    readonly seq: number;
    readonly role: string;
    /** Null where the newcomer speaks without one. */
    readonly voiceCard: NamedCard | null;
  }[];
}

export const NO_CARDS: CaseCards = { opened: [], handedOver: [] };

/** After one more entry. A hand-over from before cards were part of it left the card as it was. */
export function addToCards(cards: CaseCards, entry: Entry): CaseCards {
  switch (entry.type) {
    case 'case.opened':
      return { opened: entry.data.voiceCards ?? [], handedOver: [] };
    case 'role.handedOver': {
      const { role, voiceCard } = entry.data;
      if (voiceCard === undefined) return cards;
      return { ...cards, handedOver: [...cards.handedOver, { seq: entry.seq, role, voiceCard }] };
    }
    case 'order.undone': {
      const { since } = entry.data;
      return { ...cards, handedOver: cards.handedOver.filter(({ seq }) => seq < since) };
    }
    default:
      return cards;
  }
}

/** Whose cards the listeners learn from now, one for each role at most. */
export function cardsNow({ opened, handedOver }: CaseCards): readonly PickedCard[] {
  const byRole = new Map<string, PickedCard | null>(opened.map((card) => [card.role, card]));
  for (const { role, voiceCard } of handedOver)
    byRole.set(role, voiceCard && { role, ...voiceCard });
  return [...byRole.values()].filter((card) => card !== null);
}

/** Every card that the case heard with at some time, each once for each role that spoke with it. */
export function cardsEver({ opened, handedOver }: CaseCards): readonly PickedCard[] {
  const later = handedOver.flatMap(({ role, voiceCard }) =>
    voiceCard ? [{ role, ...voiceCard }] : [],
  );
  const known = new Map([...opened, ...later].map((card) => [`${card.role} ${card.card}`, card]));
  return [...known.values()];
}

/** What people speak in this case, from its first word to its last: as the cards that it was opened with. */
export function languageOfCards({ opened }: CaseCards): string {
  return opened[0]?.language ?? OWN_LANGUAGE;
}
