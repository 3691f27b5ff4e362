/** From the numbers of a chart to what is drawn and tabled of it. Pure. */
import type { ChangeCharts } from '../../review';
import { minText, pointCells } from './chart-text';

/** One part of a chart, between two marked changes. */
export interface LinePart {
  readonly label: string | null;
  readonly values: readonly number[];
  readonly second?: readonly number[];
  readonly smooth?: readonly number[];
  readonly band?: readonly { readonly fit: number; readonly low: number; readonly high: number }[];
  readonly lines: readonly {
    readonly at: number;
    readonly kind: 'centre' | 'limit';
    readonly text: string;
  }[];
  /** Places that are ringed. */
  readonly signals: readonly number[];
  readonly joined: boolean;
  readonly dots: boolean;
}

export interface DrawnChart {
  readonly title: string;
  readonly sentence: string;
  readonly file: string;
  readonly unit: string;
  readonly isLog: boolean;
  readonly parts: readonly LinePart[];
  readonly heads: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** All charts in the order in which they are shown. */
export function drawCharts(charts: ChangeCharts): readonly DrawnChart[] {
  return [
    drawRun(charts),
    drawIndividuals(charts),
    drawCusum(charts),
    drawEwma(charts),
    drawLearning(charts),
  ];
}

function drawRun({ run }: ChangeCharts): DrawnChart {
  return {
    title: 'Run chart, Anhøj rules',
    sentence: run.sentence,
    file: 'run-chart',
    unit: 'min',
    isLog: true,
    parts: run.parts.map(({ label, points, centre, rules }) => ({
      label,
      values: points.map(({ minutes }) => minutes),
      lines: [{ at: centre, kind: 'centre', text: 'median' }],
      signals: rules.isLongRun ? places(rules.runFrom, rules.runTo) : [],
      joined: true,
      dots: true,
    })),
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
    file: 'individuals',
    unit: 'min',
    isLog: true,
    parts: individuals.parts.map(({ label, points, centre, upper, lower, outside }) => ({
      label,
      values: points.map(({ minutes }) => minutes),
      lines: limits(centre, upper, lower),
      signals: outside,
      joined: true,
      dots: true,
    })),
    heads: ['Case', 'Day', 'Minutes', 'Lower limit', 'Upper limit', 'Beyond'],
    rows: individuals.parts.flatMap(({ points, upper, lower, outside }) =>
      points.map((point, index) => [
        ...pointCells(point),
        minText(lower),
        minText(upper),
        outside.includes(index) ? 'yes' : '',
      ]),
    ),
  };
}

function drawCusum({ cusum }: ChangeCharts): DrawnChart {
  return {
    title: 'CUSUM of the logarithm, designed for a change of 15 %',
    sentence: cusum.sentence,
    file: 'cusum',
    unit: 'sigmas',
    isLog: false,
    parts: cusum.parts.map(({ label, high, low, limit, signals }) => ({
      label,
      values: high,
      second: low,
      lines: [{ at: limit, kind: 'limit', text: 'limit' }],
      signals: signals.filter(({ side }) => side === 'high').map(({ place }) => place),
      joined: true,
      dots: false,
    })),
    heads: ['Case', 'Day', 'Minutes', 'Longer, sum', 'Shorter, sum', 'Signal'],
    rows: cusum.parts.flatMap(({ points, high, low, signals }) =>
      points.map((point, index) => [
        ...pointCells(point),
        (high[index] ?? 0).toFixed(2),
        (low[index] ?? 0).toFixed(2),
        signals.find(({ place }) => place === index)?.side ?? '',
      ]),
    ),
  };
}

function drawEwma({ ewma }: ChangeCharts): DrawnChart {
  return {
    title: 'EWMA of the logarithm, weight 0.2',
    sentence: ewma.sentence,
    file: 'ewma',
    unit: 'min',
    isLog: true,
    parts: ewma.parts.map(({ label, points, smooth, centre, upper, lower }) => ({
      label,
      values: points.map(({ minutes }) => minutes),
      smooth,
      lines: limits(centre, upper, lower),
      signals: [],
      joined: false,
      dots: true,
    })),
    heads: ['Case', 'Day', 'Minutes', 'Smoothed', 'Lower limit', 'Upper limit'],
    rows: ewma.parts.flatMap(({ points, smooth, upper, lower }) =>
      points.map((point, index) => [
        ...pointCells(point),
        minText(smooth[index]),
        minText(lower),
        minText(upper),
      ]),
    ),
  };
}

function drawLearning({ learning }: ChangeCharts): DrawnChart {
  const { points, band } = learning;
  return {
    title: 'Learning curve by case number, with the 95 % band of its fit',
    sentence: learning.sentence,
    file: 'learning-curve',
    unit: 'min',
    isLog: true,
    parts: [
      {
        label: null,
        values: points.map(({ minutes }) => minutes),
        ...(band.length > 0 ? { band } : {}),
        lines: [],
        signals: [],
        joined: false,
        dots: true,
      },
    ],
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

function places(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}
