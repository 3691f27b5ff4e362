/** What a line chart draws: plain data. */

/** A ring around a value. */
export interface Ring {
  /** Place within its part. */
  readonly place: number;
  readonly at: number;
}

/** One part of a chart, between two marked changes. */
export interface LinePart {
  readonly label: string | null;
  /** One a case; not a number where a case has none. */
  readonly values: readonly number[];
  readonly second?: readonly number[];
  readonly smooth?: readonly number[];
  readonly band?: readonly { readonly fit: number; readonly low: number; readonly high: number }[];
  readonly lines: readonly {
    readonly at: number;
    readonly kind: 'centre' | 'limit';
    readonly text: string;
  }[];
  readonly rings: readonly Ring[];
  /** How many first cases its lines are taken from, where they are not of all. */
  readonly baseline?: number;
  readonly joined: boolean;
  readonly dots: boolean;
}

/** What a sign of a chart means; `kind` is how it is drawn. */
export interface ChartKey {
  readonly kind: 'dots' | 'thread' | 'second' | 'smooth' | 'band' | 'ring';
  readonly text: string;
}

export interface DrawnChart {
  readonly title: string;
  readonly sentence: string;
  /** The design behind it, where it has one to be stated. */
  readonly note: string | null;
  readonly file: string;
  readonly unit: string;
  readonly isLog: boolean;
  readonly parts: readonly LinePart[];
  readonly keys: readonly ChartKey[];
  readonly heads: readonly string[];
  /** The table behind it; made when somebody opens it. */
  readonly rows: () => readonly (readonly string[])[];
}
