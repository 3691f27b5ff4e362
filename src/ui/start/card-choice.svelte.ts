/**
 * Which voice card each role speaks with. A card that does not go with how the wall is
 * set, or with a card that is picked already, is shown with the reason and not taken.
 */
import type { Fault, PickedCard } from '../../domain';
import type { CardLine, CardServices } from '../card-services';
import { toNamedCard } from '../parts/card-options';
import { ROLES } from './role-labels';

export class CardChoice {
  cards = $state.raw<readonly CardLine[]>([]);
  /** Id of the card by role; an empty text stands for none. */
  picked = $state<Record<string, string>>({});
  fault = $state.raw<Fault | null>(null);

  constructor(private readonly services: Pick<CardServices, 'list' | 'whyUnfit'>) {}

  async load(): Promise<void> {
    const listed = await this.services.list();
    this.fault = listed.ok ? null : listed.error;
    if (listed.ok) this.cards = listed.value;
  }

  pick(role: string, id: string): void {
    this.picked = { ...this.picked, [role]: id };
  }

  /** Why a role can't speak with a card, in words; null where it can. */
  whyNot(role: string, card: CardLine): string | null {
    const unfit = this.services.whyUnfit(card);
    if (unfit !== null) return unfit;
    const other = this.#others(role).find(({ language }) => language !== card.language);
    if (other) return `${card.languageName}, the other card is ${other.languageName}`;
    return this.#others(role).includes(card) ? 'picked for another role' : null;
  }

  /** What the record of the case says of the cards. */
  get voiceCards(): readonly PickedCard[] {
    return ROLES.flatMap(({ role }) => {
      const card = this.#cardOf(role);
      if (!card || this.whyNot(role, card) !== null) return [];
      return [{ role, ...toNamedCard(card) }];
    });
  }

  #others(role: string): readonly CardLine[] {
    return ROLES.filter((other) => other.role !== role).flatMap(
      (other) => this.#cardOf(other.role) ?? [],
    );
  }

  #cardOf(role: string): CardLine | undefined {
    return this.cards.find(({ id }) => id === this.picked[role]);
  }
}
