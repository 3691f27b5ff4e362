/** From the numbers of the charts of change to what is drawn and tabled of them. Pure. */
import type { ChangeCharts } from '../../review';
import { minText, pointCells } from './chart-text';
import { drawEwma, drawIndividuals, drawRanges } from './draw-baselined';
import { CASE, minutesOf, ringed } from './drawn-points';
import type { DrawnChart } from './line-parts';

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
    rows: () =>
      run.parts.flatMap(({ points, centre }) =>
        points.map((point) => [...pointCells(point), minText(centre)]),
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
    rows: () =>
      cusum.parts.flatMap(({ points, high, low, signals }) =>
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
    rows: () =>
      points.map((point, index) => [
        ...pointCells(point),
        minText(band[index]?.fit),
        minText(band[index]?.low),
        minText(band[index]?.high),
      ]),
  };
}

function places(from: number, to: number): readonly number[] {
  return Array.from({ length: to - from + 1 }, (_, index) => from + index);
}
