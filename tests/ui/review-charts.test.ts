/** The charts of change as they are drawn: rings on what is drawn, tables that say the same. */
import { describe, expect, test } from 'vitest';
import { chartChange } from '../../src/review';
import type { SeriesPoint } from '../../src/review';
import { createRandom } from '../../src/review';
import { fitBaseline } from '../../src/ui/review/chart-keys';
import { drawCharts } from '../../src/ui/review/draw-charts';

const series = (minutes: readonly number[]): readonly SeriesPoint[] =>
  minutes.map((value, index) => ({
    caseId: `c${index}` as never,
    at: index * 86_400_000,
    number: index + 1,
    minutes: value,
  }));

/** NIST/SEMATECH e-Handbook 6.3.2.2, flow rate; its moving ranges and their limit, 3.267 times their mean. */
const FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const FLOW_RANGES = [2.0, 2.3, 1.4, 3.5, 3.4, 1.4, 0.2, 1.2, 1.5];
const FLOW_RANGE_LIMIT = 6.1347;

function drawn(minutes: readonly number[], file: string) {
  const chart = drawCharts(chartChange(series(minutes))).find((it) => it.file === file);
  if (!chart) throw new Error(`no chart "${file}"`);
  return { ...chart, rows: chart.rows() };
}

/** Steady, then half as long, then as before: drawn by chance from a seed. */
function dip(): readonly number[] {
  const random = createRandom(6);
  return Array.from(
    { length: 100 },
    (_, index) => (index >= 60 && index < 80 ? 10 : 20) * Math.exp(0.1 * random.normal()),
  );
}

describe('charts of change, drawn', () => {
  test('[REV80] the moving ranges are those of the published series, on log scale', () => {
    const { parts, rows } = drawn(FLOW.map(Math.exp), 'moving-ranges');
    const [part] = parts;
    expect(part?.values[0]).toBeNaN();
    for (const [index, range] of FLOW_RANGES.entries())
      expect(Math.log(part?.values[index + 1] ?? NaN)).toBeCloseTo(range, 6);
    const limit = part?.lines.find(({ kind }) => kind === 'limit')?.at ?? NaN;
    // D4 as printed has four digits.
    expect(Math.abs(Math.log(limit) - FLOW_RANGE_LIMIT)).toBeLessThan(0.002);
    expect(part?.rings).toEqual([]);
    expect([rows[0]?.[3], rows.length]).toEqual(['–', FLOW.length]);
  });

  test('[REV80] a step between neighbours beyond the limit is ringed and told', () => {
    const { parts, sentence, rows } = drawn(dip(), 'moving-ranges');
    const at = parts[0]?.rings.map(({ place }) => place) ?? [];
    expect(at).toContain(60);
    expect(at).toContain(80);
    // Of a hundred cases the first sixty are the baseline.
    expect(sentence).toContain(`${at.length} of the 40 steps`);
    expect(rows.flatMap((row, place) => (row.at(-1) === 'yes' ? [place] : []))).toEqual(at);
  });

  test('[REV80] a CUSUM signal to shorter times is ringed on the sum to shorter times', () => {
    const { parts, rows, keys } = drawn(dip(), 'cusum');
    const [part] = parts;
    const rings = part?.rings.filter(({ place }) => place >= 60 && place < 80) ?? [];
    expect(rings.length).toBeGreaterThan(0);
    for (const { place, at } of rings) {
      expect(at).toBe(part?.second?.[place]);
      expect(at).toBeGreaterThan(part?.lines[0]?.at ?? NaN);
      expect(rows[place]?.at(-1)).toBe('shorter');
    }
    expect(keys.map(({ kind }) => kind)).toEqual(['thread', 'second', 'ring']);
  });

  test('[REV80] smoothed times outside their limits are ringed, and only those', () => {
    const { parts, rows } = drawn(dip(), 'ewma');
    const [part] = parts;
    const [, upper, lower] = part?.lines.map(({ at }) => at) ?? [];
    const outside = (part?.smooth ?? []).flatMap((value, place) =>
      place >= 60 && (value > (upper ?? NaN) || value < (lower ?? NaN)) ? [place] : [],
    );
    expect(outside.length).toBeGreaterThan(0);
    expect(part?.rings.map(({ place }) => place)).toEqual(outside);
    expect(part?.baseline).toBe(60);
    for (const { place, at } of part?.rings ?? []) expect(at).toBe(part?.smooth?.[place]);
    expect(rows.flatMap((row, place) => (row.at(-1) === 'yes' ? [place] : []))).toEqual(outside);
  });

  test.each(['individuals', 'moving-ranges', 'ewma'])(
    '[REV98] %s: the table says which cases are the baseline, and the note what it is',
    (file) => {
      const { rows, note, parts } = drawn(dip(), file);
      const baseline = rows.flatMap((row, place) => (row.at(-1) === 'baseline' ? [place] : []));
      expect(baseline).toEqual(Array.from({ length: 60 }, (_, place) => place));
      expect(parts[0]?.baseline).toBe(60);
      expect(note).toMatch(/^Baseline: the first 60 of the 100 cases shown, case 1 to case 60\./);
    },
  );

  test('[REV98] what stands under the baseline never reaches beyond its room', () => {
    expect(fitBaseline(30, 300)).toBe('baseline: first 30 cases');
    expect(fitBaseline(30, 100)).toBe('baseline 30');
    expect(fitBaseline(30, 30)).toBe('30');
    expect(fitBaseline(30, 8)).toBe('');
  });
});
