/** Voice cards as options of a list: what can't be picked stands there with the reason. */
import { languageToText } from '../../domain';
import type { NamedCard } from '../../domain';
import type { CaseView } from '../../session';
import type { CardLine, CardServices } from '../card-services';

/** An empty value stands for none. */
export function toCardOptions(
  cards: readonly CardLine[],
  whyNot: (card: CardLine) => string | null,
): readonly { readonly value: string; readonly text: string; readonly isDisabled: boolean }[] {
  const options = cards.map((card) => {
    const why = whyNot(card);
    const text = `${card.label}, version ${card.version}${why ? ` (${why})` : ''}`;
    return { value: card.id, text, isDisabled: why !== null };
  });
  return [{ value: '', text: 'none', isDisabled: false }, ...options];
}

/** Why whoever takes a role over in an open case can't speak with a card, in words; null where they can. */
export function whyNotInCase(
  services: Pick<CardServices, 'whyUnfit'>,
  view: Pick<CaseView, 'addressPhrase' | 'spokenLanguage' | 'voiceCards'>,
  role: string,
  card: CardLine,
): string | null {
  const unfit = services.whyUnfit(card, view.addressPhrase);
  if (unfit !== null) return unfit;
  if (card.language !== view.spokenLanguage)
    return `${card.languageName}, people of this case speak ${languageToText(view.spokenLanguage)}`;
  const isTaken = view.voiceCards.some((one) => one.card === card.id && one.role !== role);
  return isTaken ? 'another role’s' : null;
}

/** What the record of a case says of a card. */
export function toNamedCard({ id, label, version, language }: CardLine): NamedCard {
  return { card: id, label, version, language };
}
