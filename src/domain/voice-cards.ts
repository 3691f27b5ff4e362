/** What the record of a case says of a voice card. Never the sound. */

/** A voice card as a case names it. */
export interface NamedCard {
  /** Stays the same through all versions of the card. */
  readonly card: string;
  /** The card's own role name, "surgeon A". */
  readonly label: string;
  readonly version: number;
  /** BCP 47 tag of what is spoken; the cards of one case have the same. */
  readonly language: string;
}

/** A voice card as it was picked for one role. */
export interface PickedCard extends NamedCard {
  /** The role that speaks, such as "surgeon". */
  readonly role: string;
}
