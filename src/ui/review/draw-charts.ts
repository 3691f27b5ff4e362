/** From the numbers of the charts of change to what is drawn and tabled of them. Pure. */
import type { ChangeCharts } from '../../review';
import { minText, pointCells } from './chart-text';
import type { ChartKey, DrawnChart, LinePart, Ring } from './line-parts';

/** One dot is one case. */
const CASE: ChartKey = { kind: 'dots', text: 'a case' };

/** All charts in the order in which they are shown. */
export function drawCharts(charts: ChangeCharts): readonly DrawnChart[] {
  return [
    drawRun(charts),
    drawIndividuals(charts),
    drawRanges(charts),
    drawCusum(charts),
    drawEwma(charts),
    drawLearning(charts),
  ];
}

function drawRun({ run }: ChangeCharts): DrawnChart {
  return {
    title: 'Run chart, Anhøj rules',
    sentence: run.sentence,
    note: null,
    file: 'run-chart',
    unit: 'min',
    isLog: true,
    parts: run.parts.map(({ label, points, centre, rules }) => ({
      label,
      values: minutesOf(points),
      lines: [{ at: centre, kind: 'centre', text: 'median' }],
      rings: rules.isLongRun ? ringed(minutesOf(points), places(rules.runFrom, rules.runTo)) : [],
      joined: true,
      dots: true,
    })),
    keys: [CASE, { kind: 'ring', text: 'run longer than chance gives' }],
    heads: ['Case', 'Day', 'Minutes', 'Median'],
    rows: run.parts.flatMap(({ points, centre }) =>
      points.map((point) => [...pointCells(point), minText(centre)]),
    ),
  };
}

function drawIndividuals({ individuals }: ChangeCharts): DrawnChart {
  return {
    title: 'Individuals, three-sigma limits from moving ranges, on log scale',
    sentence: individuals.sentence,
    note: null,
    file: 'individuals',
    unit: 'min',
    isLog: true,
    parts: individuals.parts.map(({ label, points, centre, upper, lower, outside }) => ({
      label,
      values: minutesOf(points),
      lines: limits(centre, upper, lower),
      rings: ringed(minutesOf(points), outside),
      joined: true,
      dots: true,
    })),
    keys: [CASE, { kind: 'ring', text: 'outside the limits' }],
    heads: ['Case', 'Day', 'Minutes', 'Lower limit', 'Upper limit', 'Beyond'],
    rows: individuals.parts.flatMap(({ points, upper, lower, outside }) =>
      points.map((point, index) => [
        ...pointCells(point),
        minText(lower),
        minText(upper),
        yesIf(outside.includes(index)),
      ]),
    ),
  };
}

function drawRanges({ individuals }: ChangeCharts): DrawnChart {
  return {
    title: 'Moving ranges, each case against the one before',
    sentence: individuals.rangeSentence,
    note: null,
    file: 'moving-ranges',
    unit: 'times',
    isLog: true,
    parts: individuals.parts.map(({ label, ratios, meanRatio, ratioUpper, ratiosOutside }) => {
      const values = ratios.map((ratio) => ratio ?? NaN);
      return {
        label,
        values,
        lines: [
          { at: meanRatio, kind: 'centre' as const, text: 'mean' },
          { at: ratioUpper, kind: 'limit' as const, text: 'limit' },
        ],
        rings: ringed(values, ratiosOutside),
        joined: true,
        dots: true,
      };
    }),
    keys: [
      { kind: 'dots', text: 'the longer of two neighbours over the shorter' },
      { kind: 'ring', text: 'beyond the limit' },
    ],
    heads: ['Case', 'Day', 'Minutes', 'Against the case before', 'Limit', 'Beyond'],
    rows: individuals.parts.flatMap(({ points, ratios, ratioUpper, ratiosOutside }) =>
      points.map((point, index) => [
        ...pointCells(point),
        timesText(ratios[index]),
        timesText(ratioUpper),
        yesIf(ratiosOutside.includes(index)),
      ]),
    ),
  };
}

function drawCusum({ cusum }: ChangeCharts): DrawnChart {
  return {
    title: 'CUSUM of the logarithm, made for a change of 15 %',
    sentence: cusum.sentence,
    note: cusum.note,
    file: 'cusum',
    unit: 'sigmas',
    isLog: false,
    parts: cusum.parts.map(({ label, high, low, limit, signals }) => ({
      label,
      values: high,
      second: low,
      lines: [{ at: limit, kind: 'limit', text: 'limit' }],
      rings: signals.map(({ place, side }) => ({
        place,
        at: (side === 'high' ? high : low)[place] ?? NaN,
      })),
      joined: true,
      dots: false,
    })),
    keys: [
      { kind: 'thread', text: 'sum to longer times' },
      { kind: 'second', text: 'sum to shorter times' },
      { kind: 'ring', text: 'signal' },
    ],
    heads: ['Case', 'Day', 'Minutes', 'Longer, sum', 'Shorter, sum', 'Signal'],
    rows: cusum.parts.flatMap(({ points, high, low, signals }) =>
      points.map((point, index) => [
        ...pointCells(point),
        (high[index] ?? 0).toFixed(2),
        (low[index] ?? 0).toFixed(2),
        SIDES[signals.find(({ place }) => place === index)?.side ?? 'none'],
      ]),
    ),
  };
}

/** As the sentence has it. */
const SIDES = { high: 'longer', low: 'shorter', none: '' } as const;

function drawEwma({ ewma }: ChangeCharts): DrawnChart {
  return {
    title: 'EWMA of the logarithm, weight 0.2',
    sentence: ewma.sentence,
    note: null,
    file: 'ewma',
    unit: 'min',
    isLog: true,
    parts: ewma.parts.map(({ label, points, smooth, centre, upper, lower, outside }) => ({
      label,
      values: minutesOf(points),
      smooth,
      lines: limits(centre, upper, lower),
      rings: ringed(smooth, outside),
      joined: false,
      dots: true,
    })),
    keys: [
      CASE,
      { kind: 'smooth', text: 'smoothed' },
      { kind: 'ring', text: 'outside the limits' },
    ],
    heads: ['Case', 'Day', 'Minutes', 'Smoothed', 'Lower limit', 'Upper limit', 'Beyond'],
    rows: ewma.parts.flatMap(({ points, smooth, upper, lower, outside }) =>
      points.map((point, index) => [
        ...pointCells(point),
        minText(smooth[index]),
        minText(lower),
        minText(upper),
        yesIf(outside.includes(index)),
      ]),
    ),
  };
}

function drawLearning({ learning }: ChangeCharts): DrawnChart {
  const { points, band } = learning;
  return {
    title: 'Learning curve by case number, with the 95 % band of its fit',
    sentence: learning.sentence,
    note: null,
    file: 'learning-curve',
    unit: 'min',
    isLog: true,
    parts: [
      {
        label: null,
        values: minutesOf(points),
        ...(band.length > 0 ? { band } : {}),
        lines: [],
        rings: [],
        joined: false,
        dots: true,
      },
    ],
    keys:
      band.length > 0
        ? [CASE, { kind: 'smooth', text: 'fit' }, { kind: 'band', text: '95 % band' }]
        : [CASE],
    heads: ['Case', 'Day', 'Minutes', 'Fit', 'Low', 'High'],
    rows: points.map((point, index) => [
      ...pointCells(point),
      minText(band[index]?.fit),
      minText(band[index]?.low),
      minText(band[index]?.high),
    ]),
  };
}

function limits(centre: number, upper: number, lower: number): LinePart['lines'] {
  return [
    { at: centre, kind: 'centre', text: 'centre' },
    { at: upper, kind: 'limit', text: 'upper' },
    { at: lower, kind: 'limit', text: 'lower' },
  ];
}

/** Rings around the values at these places. */
function ringed(values: readonly number[], at: readonly number[]): readonly Ring[] {
  return at.map((place) => ({ place, at: values[place] ?? NaN }));
}

function minutesOf(points: readonly { readonly minutes: number }[]): readonly number[] {
  return points.map(({ minutes }) => minutes);
}

function yesIf(isSo: boolean): string {
  return isSo ? 'yes' : '';
}

/** "×1.32"; a dash where there is nothing to hold a case against. */
function timesText(ratio: number | null | undefined): string {
  return ratio === null || ratio === undefined || !Number.isFinite(ratio)
    ? '–'
    : `×${ratio.toFixed(2)}`;
}

function places(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}
