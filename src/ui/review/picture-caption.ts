/**
 * The words of a picture file, drawn above the chart: what it shows, what it says, and
 * whether it is of invented cases. A picture goes where no screen is beside it.
 */
import type { CaseMode } from '../../domain';
import { MODE_TEXTS } from '../parts/mode-text';

export interface PictureWords {
  readonly mode: CaseMode;
  readonly title: string;
  /** Sentences under the title, each on lines of its own. */
  readonly words: readonly string[];
}

export interface CaptionLine {
  readonly text: string;
  readonly kind: 'mode' | 'title' | 'words';
  /** Where its letters stand. */
  readonly baseline: number;
}

/** Sizes of letters and distances of lines, in units of the drawing. */
const SIZES = {
  mode: { font: 15, line: 34, weight: 650 },
  title: { font: 19, line: 26, weight: 650 },
  words: { font: 15, line: 21, weight: 400 },
} as const;
/** Bare paper on every side of words and drawing. */
export const MARGIN = 14;

/** Lays the words out; `measure` gives the width of a text at a font size and weight. */
export function layOutCaption(
  { mode, title, words }: PictureWords,
  width: number,
  measure: (text: string, size: number, weight: number) => number,
): { readonly lines: readonly CaptionLine[]; readonly height: number } {
  const texts = [
    ...(mode === 'real' ? [] : [{ text: MODE_TEXTS[mode], kind: 'mode' as const }]),
    { text: title, kind: 'title' as const },
    ...words.map((text) => ({ text, kind: 'words' as const })),
  ];
  const lines: CaptionLine[] = [];
  let height = MARGIN;
  for (const { text, kind } of texts) {
    const { font, line, weight } = SIZES[kind];
    for (const part of wrap(text, width - 2 * MARGIN, (it) => measure(it, font, weight))) {
      lines.push({ text: part, kind, baseline: height + font });
      height += line;
    }
  }
  return { lines, height: height + MARGIN };
}

/** Breaks at spaces; a word that is too long stands on a line of its own. */
function wrap(text: string, width: number, measure: (text: string) => number): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    const longer = `${last ?? ''} ${word}`;
    if (last === undefined || measure(longer) > width) lines.push(word);
    else lines[lines.length - 1] = longer;
  }
  return lines;
}

/** The words as a part of a drawing; `font` and `colour` are those of the page. */
export function drawCaption(
  lines: readonly CaptionLine[],
  { font, colour }: { readonly font: string; readonly colour: string },
  measure: (text: string, size: number, weight: number) => number,
): SVGGElement {
  const group = element('g', { 'font-family': font, fill: colour });
  for (const { text, kind, baseline } of lines) {
    const { font: size, weight } = SIZES[kind];
    const isMode = kind === 'mode';
    const letters = element('text', {
      x: MARGIN + (isMode ? 10 : 0),
      y: baseline,
      'font-size': size,
      'font-weight': weight,
    });
    letters.textContent = text;
    if (isMode) {
      const frame = {
        x: MARGIN,
        y: baseline - 18,
        height: 26,
        rx: 6,
        width: measure(text, size, weight) + 20,
      };
      group.append(
        element('rect', {
          ...frame,
          fill: 'none',
          stroke: colour,
          'stroke-width': 2,
          'stroke-dasharray': '6 4',
        }),
      );
    }
    group.append(letters);
  }
  return group;
}

/** An element of a drawing with its attributes. */
export function element<Name extends keyof SVGElementTagNameMap>(
  name: Name,
  attributes: Readonly<Record<string, string | number>>,
): SVGElementTagNameMap[Name] {
  const made = document.createElementNS('http://www.w3.org/2000/svg', name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, String(value));
  return made;
}
