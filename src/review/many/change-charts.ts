/** What the charts of change hold: plain data, so that a worker can hand it over. */
import type { RunChart } from '../statistics/run-chart';
import type { SeriesPoint } from './series';

/** Points of a chart in minutes, with the limits of the part in which they lie. */
export interface PartChart {
  readonly label: string | null;
  readonly points: readonly SeriesPoint[];
  readonly centre: number;
  readonly upper: number;
  readonly lower: number;
  /** Places, within the part, of points beyond a limit. */
  readonly outside: readonly number[];
}

/** A chart whose centre and limits are those of its first cases. */
export interface BaselinePart extends PartChart {
  /** How many first cases of the part they are; only later ones lie in `outside`. */
  readonly baseline: number;
}

/** Individuals, and how each case differs from the one before it. */
export interface IndividualsPart extends BaselinePart {
  /** The longer of two neighbours over the shorter one; the first of a part has none before it. */
  readonly ratios: readonly (number | null)[];
  readonly meanRatio: number;
  readonly ratioUpper: number;
  /** Places of ratios beyond their limit. */
  readonly ratiosOutside: readonly number[];
}

export interface RunPart extends PartChart {
  readonly rules: RunChart;
}

export interface EwmaPart extends BaselinePart {
  readonly smooth: readonly number[];
}

export interface CusumPart {
  readonly label: string | null;
  readonly points: readonly SeriesPoint[];
  /** Sums in sigmas; a sum above `limit` is a signal. */
  readonly high: readonly number[];
  readonly low: readonly number[];
  /** What a case may differ without adding to a sum, in sigmas. */
  readonly allowance: number;
  readonly limit: number;
  /** Spread on log scale, from moving ranges. */
  readonly sigma: number;
  readonly signals: readonly CusumSignal[];
}

export interface CusumSignal {
  readonly place: number;
  readonly side: 'high' | 'low';
  /** Place of the case with which the change seems to have begun. */
  readonly since: number;
}

export interface ChangeCharts {
  readonly count: number;
  readonly run: { readonly parts: readonly RunPart[]; readonly sentence: string };
  readonly individuals: {
    readonly parts: readonly IndividualsPart[];
    readonly sentence: string;
    readonly rangeSentence: string;
    /** What the limits rest on. */
    readonly note: string;
  };
  readonly cusum: {
    readonly parts: readonly CusumPart[];
    readonly sentence: string;
    /** The design in figures. */
    readonly note: string;
  };
  readonly ewma: {
    readonly parts: readonly EwmaPart[];
    readonly sentence: string;
    readonly note: string;
  };
  readonly learning: {
    readonly points: readonly SeriesPoint[];
    /** Fit and its 95 % band beside each point; empty where nothing can be said. */
    readonly band: readonly { readonly fit: number; readonly low: number; readonly high: number }[];
    readonly sentence: string;
  };
}
