/** The charts that hold cases against the first of them: individuals, moving ranges, EWMA. Pure. */
import type { ChangeCharts } from '../../review';
import { minText, pointCells } from './chart-text';
import { CASE, minutesOf, ringed } from './drawn-points';
import type { DrawnChart, LinePart } from './line-parts';

export function drawIndividuals({ individuals }: ChangeCharts): DrawnChart {
  return {
    title: 'Individuals, three-sigma limits from moving ranges, on log scale',
    sentence: individuals.sentence,
    note: individuals.note,
    file: 'individuals',
    unit: 'min',
    isLog: true,
    parts: individuals.parts.map(({ label, points, centre, upper, lower, outside, baseline }) => ({
      label,
      baseline,
      values: minutesOf(points),
      lines: limits(centre, upper, lower),
      rings: ringed(minutesOf(points), outside),
      joined: true,
      dots: true,
    })),
    keys: [CASE, { kind: 'ring', text: 'outside the limits' }],
    heads: ['Case', 'Day', 'Minutes', 'Lower limit', 'Upper limit', 'Beyond'],
    rows: () =>
      individuals.parts.flatMap(({ points, upper, lower, outside, baseline }) =>
        points.map((point, index) => [
          ...pointCells(point),
          minText(lower),
          minText(upper),
          judgeText(index, outside, baseline),
        ]),
      ),
  };
}

export function drawRanges({ individuals }: ChangeCharts): DrawnChart {
  return {
    title: 'Moving ranges, each case against the one before',
    sentence: individuals.rangeSentence,
    note: individuals.note,
    file: 'moving-ranges',
    unit: 'times',
    isLog: true,
    parts: individuals.parts.map((part) => {
      const { label, ratios, meanRatio, ratioUpper, ratiosOutside, baseline } = part;
      const values = ratios.map((ratio) => ratio ?? NaN);
      return {
        label,
        baseline,
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
    rows: () =>
      individuals.parts.flatMap(({ points, ratios, ratioUpper, ratiosOutside, baseline }) =>
        points.map((point, index) => [
          ...pointCells(point),
          timesText(ratios[index]),
          timesText(ratioUpper),
          judgeText(index, ratiosOutside, baseline),
        ]),
      ),
  };
}

export function drawEwma({ ewma }: ChangeCharts): DrawnChart {
  return {
    title: 'EWMA of the logarithm, weight 0.2',
    sentence: ewma.sentence,
    note: ewma.note,
    file: 'ewma',
    unit: 'min',
    isLog: true,
    parts: ewma.parts.map(({ label, points, smooth, centre, upper, lower, outside, baseline }) => ({
      label,
      baseline,
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
    rows: () =>
      ewma.parts.flatMap(({ points, smooth, upper, lower, outside, baseline }) =>
        points.map((point, index) => [
          ...pointCells(point),
          minText(smooth[index]),
          minText(lower),
          minText(upper),
          judgeText(index, outside, baseline),
        ]),
      ),
  };
}

function limits(centre: number, upper: number, lower: number): LinePart['lines'] {
  return [
    { at: centre, kind: 'centre', text: 'centre' },
    { at: upper, kind: 'limit', text: 'upper' },
    { at: lower, kind: 'limit', text: 'lower' },
  ];
}

/** Whether a case lies beyond the limits; one of the baseline gave them and is not judged. */
function judgeText(place: number, outside: readonly number[], baseline: number): string {
  return place < baseline ? 'baseline' : outside.includes(place) ? 'yes' : '';
}

/** "×1.32"; a dash where there is nothing to hold a case against. */
function timesText(ratio: number | null | undefined): string {
  return ratio === null || ratio === undefined || !Number.isFinite(ratio)
    ? '–'
    : `×${ratio.toFixed(2)}`;
}
