/**
 * Contrast of every pair of text and ground that the screens use, in both themes and on paper,
 * from the colours in theme.css and the W3C's relative luminance (WCAG 2.2).
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';

const css = readFileSync(new URL('../../src/ui/theme.css', import.meta.url), 'utf8');
const tokens = new Map(
  [...css.matchAll(/--([a-z0-9-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\)/g)].map(
    ([, name = '', light = '', dark = '']) => [name, { light, dark }],
  ),
);

/** Text on its ground: at least 7:1. */
const TEXT_PAIRS = [
  ...['text', 'dim', 'settled', 'want', 'held'].flatMap((text) => [
    [text, 'ink'],
    [text, 'ink2'],
  ]),
  ['label-ink', 'label'],
  ['want-ink', 'want'],
  ['held-ink', 'held'],
] as const;
/** Marks that carry a meaning without being text: at least 3:1. */
const MARK_PAIRS = [
  ['rail', 'ink'],
  ['rail', 'ink2'],
  ['focus', 'ink'],
  ['focus', 'ink2'],
] as const;

function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [low = 0, high = 0] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

function pairContrast(pair: readonly string[], theme: 'light' | 'dark'): number {
  const [a, b] = pair.map((name) => tokens.get(name)?.[theme]);
  if (!a || !b) throw new Error(`theme.css has no "${pair.join('" or "')}"`);
  return contrast(a, b);
}

describe.each(['dark', 'light'] as const)('%s theme', (theme) => {
  test.each(TEXT_PAIRS)(`[WAL1] ${theme}: %s on %s is at least 7:1`, (...pair) => {
    expect(pairContrast(pair, theme)).toBeGreaterThanOrEqual(7);
  });
  test.each(MARK_PAIRS)(`[WAL1] ${theme}: the mark %s on %s is at least 3:1`, (...pair) => {
    expect(pairContrast(pair, theme)).toBeGreaterThanOrEqual(3);
  });
});

// Ratios from a table of known pairs; two of them are published by others as well.
test.each([
  ['#000000', '#ffffff', 21],
  ['#767676', '#ffffff', 4.5422],
  ['#595959', '#ffffff', 7.0047],
  ['#0000ff', '#ff0000', 2.1489],
])('[WAL1] the formula gives the known ratio of %s and %s', (a, b, ratio) => {
  expect(contrast(a, b)).toBeCloseTo(ratio, 3);
});

/** Grounds, bars and marks that must stay apart where a copier leaves no colour. */
const PAPER_PAIRS = [
  ['paper-settled', 'paper'],
  ['paper-want', 'paper'],
  ['paper-want', 'paper-settled'],
  ['paper-text', 'paper-want'],
  ['paper-rail', 'paper'],
] as const;

describe('on paper', () => {
  const paper = new Map(
    [...css.matchAll(/--(paper[a-z-]*): #([0-9a-f]{3});/g)].map(([, name = '', hex = '']) => [
      name,
      `#${[...hex].map((digit) => digit + digit).join('')}`,
    ]),
  );
  const of = (name: string) => {
    const hex = paper.get(name);
    if (!hex) throw new Error(`theme.css has no "${name}"`);
    return hex;
  };

  test.each(PAPER_PAIRS)('[REV55] %s and %s stand at least 3:1 apart', (a, b) => {
    // WCAG 2.2, 1.4.11: what a shape needs against what lies beside it.
    expect(contrast(of(a), of(b))).toBeGreaterThanOrEqual(3);
  });

  test('[REV55] every colour is a grey, and text is at least 7:1', () => {
    expect(paper.size).toBeGreaterThan(5);
    for (const hex of paper.values()) expect(hex.slice(1, 3).repeat(3)).toBe(hex.slice(1));
    for (const text of ['paper-text', 'paper-dim'])
      expect(contrast(of(text), of('paper'))).toBeGreaterThanOrEqual(7);
  });
});
