/** Hours of talk, and what was taken from it, by source and listener; parts can be added up. */
import type { HeardPhrase } from '../../../src/domain';
import { poissonUpper } from './proportion';

/** Something taken from talk that was meant for nobody. */
export interface FalseActivation {
  readonly taken: string;
  readonly said: string;
  readonly voice: string;
  readonly room: string;
}

export interface TalkRow {
  readonly hours: number;
  readonly askedAgain: number;
  readonly activations: readonly FalseActivation[];
  readonly perHour: number;
  /** 95 % certain that it is less. */
  readonly upper95PerHour: number;
}

/** Rows by "source | listener". */
export type TalkRows = Readonly<Record<string, TalkRow>>;

export class TalkCounts {
  readonly #rows = new Map<string, TalkRow>();
  pieces = 0;

  /** One piece of talk, and what each way of deciding made of it. */
  add(
    source: string,
    hours: number,
    heard: Readonly<Record<string, readonly HeardPhrase[]>>,
    about: Omit<FalseActivation, 'taken'>,
  ): void {
    this.pieces += 1;
    for (const [name, phrases] of Object.entries(heard)) {
      const activations = phrases.flatMap(({ words }) =>
        words === null ? [] : [{ taken: words, ...about }],
      );
      const askedAgain = phrases.filter(
        ({ words, candidates }) => words === null && candidates !== undefined,
      ).length;
      this.#count(`${source} | ${name}`, { hours, askedAgain, activations });
    }
  }

  /** What another part counted. */
  addRows(rows: TalkRows): void {
    for (const [name, row] of Object.entries(rows)) this.#count(name, row);
  }

  get rows(): TalkRows {
    return Object.fromEntries(this.#rows);
  }

  #count(name: string, more: Pick<TalkRow, 'hours' | 'askedAgain' | 'activations'>): void {
    const known = this.#rows.get(name);
    const hours = (known?.hours ?? 0) + more.hours;
    const activations = [...(known?.activations ?? []), ...more.activations];
    this.#rows.set(name, {
      hours,
      askedAgain: (known?.askedAgain ?? 0) + more.askedAgain,
      activations,
      perHour: activations.length / hours,
      upper95PerHour: poissonUpper(activations.length) / hours,
    });
  }
}
