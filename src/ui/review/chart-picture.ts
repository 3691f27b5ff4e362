/** A drawn chart as a picture file: the SVG with its colours written into it, or the same as PNG. */

/** Styles that a picture must carry with it; elsewhere there is no style sheet. */
const CARRIED = [
  'fill', 'stroke', 'fill-opacity', 'stroke-width', 'stroke-dasharray', 'stroke-linecap', 'font-size', 'font-weight', 'font-family', 'text-anchor', 'opacity',
] as const; // prettier-ignore
/** Dots for each unit of the drawing: sharp on paper. */
const PNG_SCALE = 3;
/** How long a finished picture waits for the browser to take it. */
const KEPT_MS = 60_000;

/** Saves the picture; rejects with the browser's reason. `description` goes with it for those who can't see it. */
export async function savePicture(
  svg: SVGSVGElement,
  name: string,
  kind: 'svg' | 'png',
  description: string,
): Promise<void> {
  const text = toStandaloneSvg(svg, description);
  const picture =
    kind === 'svg'
      ? new Blob([text], { type: 'image/svg+xml' })
      : await toPng(text, svg.viewBox.baseVal);
  offer(picture, `${name}.${kind}`);
}

function toStandaloneSvg(svg: SVGSVGElement, description: string): string {
  const copy = svg.cloneNode(true) as SVGSVGElement;
  const originals = [svg, ...svg.querySelectorAll<SVGElement>('*')];
  const copies = [copy, ...copy.querySelectorAll<SVGElement>('*')];
  for (const [index, original] of originals.entries()) {
    const style = getComputedStyle(original);
    for (const property of CARRIED) {
      copies[index]?.style.setProperty(property, style.getPropertyValue(property));
    }
  }
  const { width, height } = svg.viewBox.baseVal;
  const ground = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
  ground.setAttribute('width', String(width));
  ground.setAttribute('height', String(height));
  ground.setAttribute('style', `fill: ${getComputedStyle(document.body).backgroundColor}`);
  const words = document.createElementNS('http://www.w3.org/2000/svg', 'desc');
  words.textContent = description;
  copy.prepend(words, ground);
  copy.setAttribute('xmlns', 'http://www.w3.org/2000/svg');
  copy.setAttribute('width', String(width));
  copy.setAttribute('height', String(height));
  return new XMLSerializer().serializeToString(copy);
}

async function toPng(
  text: string,
  { width, height }: { readonly width: number; readonly height: number },
): Promise<Blob> {
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
