/**
 * Is it changing? The charts of one series, computed on the logarithm of the
 * durations, because they are skewed, and given back in minutes; after a marked change
 * each part has its own centre and limits. Beside every chart one sentence: what
 * it shows, or that it can't say anything yet.
 */
import { deviation, mean } from 'd3-array';
import { chartEwma } from '../statistics/ewma';
import { chartIndividuals } from '../statistics/individuals';
import { fitLearning } from '../statistics/learning-curve';
import { baselineLength, baselineNote, judgedOf } from './baseline';
import type { ChangeCharts, EwmaPart, IndividualsPart, RunPart } from './change-charts';
import { cusumPart } from './cusum-part';
import { cusumNote, cusumSentence } from './cusum-words';
import { chartRuns } from '../statistics/run-chart';
import { splitAtChanges } from '../statistics/segments';
import type { ChangeMark } from '../statistics/segments';
import type { SeriesPoint } from './series';
import {
  ewmaSentence, individualsSentence, learningSentence, LEAST, rangeSentence, runSentence,
 } from './sentences'; // prettier-ignore

/** The charts look at no more than the latest of a long series; more would be a smear. The learning curve is fitted to all. */
const MOST_POINTS = 180;

/** All charts of a series in order of time. */
export function chartChange(
  series: readonly SeriesPoint[],
  marks: readonly ChangeMark[] = [],
): ChangeCharts {
  const latest = series.slice(-MOST_POINTS);
  const parts = splitAtChanges(latest, marks).map(({ label, values }) => ({
    label,
    points: values,
  }));
  const run = parts.map(runPart);
  const individuals = parts.map(individualsPart);
  const cusum = parts.map(cusumPart);
  const ewma = parts.map(ewmaPart);
  const curve = fitLearning(series.map(({ number, minutes }) => ({ number, time: minutes })));
  return {
    count: series.length,
    run: { parts: run, sentence: runSentence(run) },
    individuals: {
      parts: individuals,
      sentence: individualsSentence(individuals),
      rangeSentence: rangeSentence(individuals),
      note: baselineNote(individuals),
    },
    cusum: { parts: cusum, sentence: cusumSentence(cusum), note: cusumNote(cusum) },
    ewma: { parts: ewma, sentence: ewmaSentence(ewma), note: baselineNote(ewma) },
    learning: {
      points: latest,
      band: curve && series.length >= LEAST ? latest.map(({ number }) => curve.at(number)) : [],
      sentence: learningSentence(curve, series.length),
    },
  };
}

interface Part {
  readonly label: string | null;
  readonly points: readonly SeriesPoint[];
}

function logsOf({ points }: Part): readonly number[] {
  return points.map(({ minutes }) => Math.log(minutes));
}

/** The run rules look at sides of the median only: a logarithm changes nothing. */
function runPart(part: Part): RunPart {
  const rules = chartRuns(part.points.map(({ minutes }) => minutes));
  return { ...part, rules, centre: rules.median, upper: NaN, lower: NaN, outside: [] };
}

/** The moving range of logarithms is the logarithm of a ratio, and is given as one. */
function individualsPart(part: Part): IndividualsPart {
  const count = part.points.length;
  const baseline = baselineLength(count);
  const chart = chartIndividuals(logsOf(part), baseline);
  return {
    ...part,
    baseline,
    centre: Math.exp(chart.mean),
    upper: Math.exp(chart.upper),
    lower: Math.exp(chart.lower),
    outside: judgedOf(chart.outside, count),
    ratios: [null, ...chart.ranges.map(Math.exp)],
    meanRatio: Math.exp(chart.meanRange),
    ratioUpper: Math.exp(chart.rangeUpper),
    ratiosOutside: judgedOf(
      chart.ranges.flatMap((range, place) => (range > chart.rangeUpper ? [place + 1] : [])),
      count,
    ),
  };
}

function ewmaPart(part: Part): EwmaPart {
  const { centre, sigma } = baselineOf(part);
  const chart = chartEwma(logsOf(part), { start: centre, sigma, lambda: 0.2, width: 2.7 });
  return {
    ...part,
    baseline: baselineLength(part.points.length),
    centre: Math.exp(centre),
    upper: Math.exp(chart.upper),
    lower: Math.exp(chart.lower),
    outside: judgedOf(chart.outside, part.points.length),
    smooth: chart.points.map(Math.exp),
  };
}

function baselineOf(part: Part): { readonly centre: number; readonly sigma: number } {
  const logs = logsOf(part).slice(0, baselineLength(part.points.length));
  return { centre: mean(logs) ?? NaN, sigma: deviation(logs) ?? NaN };
}
