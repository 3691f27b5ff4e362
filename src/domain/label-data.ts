/**
 * What the bar code on a pack says, whatever standard it was written in. Dates are
 * calendar days as ISO text (2026-11-30); they have no time zone.
 */
export const LABEL_SCHEMES = ['gs1', 'hibc'] as const;
export type LabelScheme = (typeof LABEL_SCHEMES)[number];

/** Things on a label that are allowed, but worth a word. */
export const LABEL_NOTICES = [
  /** The day of a date was given as 00, which means the last of the month. */
  'day-not-given',
  /** A separator stood where none is needed. */
  'separator-not-needed',
  /** A part is not one that this program reads. */
  'part-not-read',
] as const;
export type LabelNotice = (typeof LABEL_NOTICES)[number];

export interface LabelData {
  readonly scheme: LabelScheme;
  /** The fixed part: which product this is. Null where another bar code of the pack carries it. */
  readonly product: string | null;
  readonly lot: string | null;
  readonly serial: string | null;
  readonly expiresOn: string | null;
  readonly madeOn: string | null;
  readonly quantity: number | null;
  /** As a person reads it beside the bars: (01)…(17)… or +A123…. */
  readonly readable: string;
  readonly notices: readonly LabelNotice[];
  /** HIBC only: the check character of a primary part, or the link that a secondary part carries. */
  readonly link: string | null;
}
