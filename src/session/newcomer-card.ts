/** Whether the voice card of whoever takes a role over goes with the case. */
import { cardsNow, fault, languageOfCards, languageToText } from '../domain';
import type { CaseCards, Fault, Order } from '../domain';

/**
 * Why a role can't be handed over with this card; null where it can. People of one case
 * speak one language, and one card is one person's.
 */
export function whyCardUnfit(cards: CaseCards, order: Order): Fault | null {
  if (order.type !== 'role.handOver' || !order.voiceCard) return null;
  const { card, label: name, language } = order.voiceCard;
  const expected = languageOfCards(cards);
  if (language !== expected) {
    const params = { received: languageToText(language), expected: languageToText(expected) };
    return fault('voice-card-other-language', { name, ...params });
  }
  const isTaken = cardsNow(cards).some((one) => one.card === card && one.role !== order.role);
  return isTaken ? fault('voice-card-taken', { name }) : null;
}
