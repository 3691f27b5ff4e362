/** A drawn chart as a picture file, black on white as on paper: the SVG with its colours written into it, or the same as PNG. */
import { MODE_TEXTS } from '../parts/mode-text';
import { drawCaption, element, layOutCaption, MARGIN } from './picture-caption';
import type { PictureWords } from './picture-caption';

/** Styles that a picture must carry with it; elsewhere there is no style sheet. */
const CARRIED = [
  'fill', 'stroke', 'fill-opacity', 'stroke-width', 'stroke-dasharray', 'stroke-linecap', 'stroke-linejoin', 'font-size', 'font-weight', 'font-family', 'text-anchor', 'opacity',
] as const; // prettier-ignore
/** The colours of a drawing, and what each is on paper; ReviewScreen prints with the same. */
const ON_PAPER = {
  ink: 'paper', ink2: 'paper', text: 'paper-text', dim: 'paper-dim', line: 'paper-line', rail: 'paper-rail', settled: 'paper-settled', want: 'paper-want', 'want-ink': 'paper-text', held: 'paper-text',
} as const; // prettier-ignore
/** Dots for each unit of the drawing: sharp on paper. */
const PNG_SCALE = 3;
/** How long a finished picture waits for the browser to take it. */
const KEPT_MS = 60_000;

/** Saves the picture with its words above it; rejects with the browser's reason. A file that is not of real cases says so in its name. */
export async function savePicture(
  svg: SVGSVGElement,
  name: string,
  kind: 'svg' | 'png',
  words: PictureWords,
): Promise<void> {
  const drawing = toStandaloneSvg(svg, words);
  const picture =
    kind === 'svg' ? new Blob([drawing.text], { type: 'image/svg+xml' }) : await toPng(drawing);
  offer(picture, `${words.mode === 'real' ? '' : `${words.mode}-`}${name}.${kind}`);
}

interface Drawing {
  readonly text: string;
  readonly width: number;
  readonly height: number;
}

function toStandaloneSvg(svg: SVGSVGElement, words: PictureWords): Drawing {
  const copy = copyForPaper(svg);
  const root = getComputedStyle(document.documentElement);
  const font = getComputedStyle(document.body).fontFamily;
  const chart = svg.viewBox.baseVal;
  const width = chart.width + 2 * MARGIN;
  const measure = measureIn(font);
  const caption = layOutCaption(words, width, measure);
  const height = caption.height + chart.height + MARGIN;
  const moved = element('g', { transform: `translate(${MARGIN} ${caption.height})` });
  moved.append(...copy.childNodes);
  const title = element('title', {});
  title.textContent = words.title;
  const description = element('desc', {});
  description.textContent = [
    ...(words.mode === 'real' ? [] : [MODE_TEXTS[words.mode]]),
    ...words.words,
  ].join('. ');
  copy.append(
    title,
    description,
    element('rect', { width, height, style: `fill: ${root.getPropertyValue('--paper')}` }),
    drawCaption(caption.lines, { font, colour: root.getPropertyValue('--paper-text') }, measure),
    moved,
  );
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('viewBox', `0 0 ${width} ${height}`);
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height));
  return { text: new XMLSerializer().serializeToString(copy), width, height };
}

/** A copy that carries its looks with it, as they are on paper. On the screen nothing is seen of it. */
function copyForPaper(svg: SVGSVGElement): SVGSVGElement {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const originals = [svg, ...svg.querySelectorAll<SVGElement>('*')];
  const copies = [copy, ...copy.querySelectorAll<SVGElement>('*')];
  for (const [name, paper] of Object.entries(ON_PAPER)) {
    svg.style.setProperty(`--${name}`, `var(--${paper})`);
  }
  for (const [index, original] of originals.entries()) {
    const style = getComputedStyle(original);
    for (const property of CARRIED) {
      copies[index]?.style.setProperty(property, style.getPropertyValue(property));
    }
  }
  for (const name of Object.keys(ON_PAPER)) svg.style.removeProperty(`--${name}`);
  return copy;
}

/** The width of a text in the page's letters or, where a picture is opened without them, in the plain ones that stand in: the wider of both. */
function measureIn(family: string): (text: string, size: number, weight: number) => number {
  const canvas = new OffscreenCanvas(1, 1).getContext('2d');
  return (text, size, weight) =>
    Math.max(
      ...[family, 'sans-serif'].map((font) => {
        if (!canvas) throw new Error('this browser draws no text on a canvas');
        canvas.font = `${weight} ${size}px ${font}`;
        return canvas.measureText(text).width;
      }),
    );
}

async function toPng({ text, width, height }: Drawing): Promise<Blob> {
  const image = new Image();
  // The page's policy takes pictures from our own files and from data only, not from blobs.
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = new OffscreenCanvas(width * PNG_SCALE, height * PNG_SCALE);
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  return canvas.convertToBlob({ type: 'image/png' });
}

function offer(blob: Blob, name: string): void {
  const url = URL.createObjectURL(blob);
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  // The browser takes the file after the click: gone at once, it may find nothing.
  setTimeout(() => {
    URL.revokeObjectURL(url);
  }, KEPT_MS);
}
