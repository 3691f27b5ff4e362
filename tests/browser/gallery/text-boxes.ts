/** Measures the texts of a page as drawn. Texts that are only read aloud don't count. */

interface DrawnText {
  readonly text: string;
  readonly parent: Element;
  readonly box: DOMRect;
  readonly lines: readonly DOMRect[];
  /** In pixels; inside a drawing it is scaled with it. */
  readonly size: number;
}

/** Texts that reach out of an ancestor's box or of the screen. */
export function clippedTexts(): readonly string[] {
  return listTexts().flatMap((drawn) => {
    const around = listAncestors(drawn.parent).find((outer) => isOutside(drawn, outer));
    if (around) return [`"${drawn.text}" leaves <${around.tagName} class="${around.className}">`];
    const { left, right, bottom } = drawn.box;
    const isOff = left < -1 || right > innerWidth + 1 || bottom > innerHeight + 1;
    return isOff ? [`"${drawn.text}" leaves the screen`] : [];
  });
}

/** Pairs of texts whose letters lie on each other. */
export function overlappingTexts(): readonly string[] {
  // Letters are lower than their box: what counts is about from cap height to baseline.
  const boxes = listTexts().flatMap(({ text, size, lines }) =>
    lines.map(({ left, right, top, bottom }) => {
      const middle = (top + bottom) / 2;
      return { text, left, right, top: middle - size * 0.36, bottom: middle + size * 0.36 };
    }),
  );
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter((b) => a.left + 1 < b.right && b.left + 1 < a.right)
      .filter((b) => a.top < b.bottom && b.top < a.bottom)
      .map((b) => `"${a.text}" and "${b.text}"`),
  );
}

/** Texts set in less than 40 px. */
export function smallTexts(): readonly string[] {
  return listTexts()
    .filter(({ size }) => size < 39.99)
    .map(({ text, size }) => `"${text}" is ${size.toFixed(1)} px`);
}

function listTexts(): readonly DrawnText[] {
  const found: DrawnText[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent?.trim() ?? '';
    const parent = node.parentElement;
    if (text === '' || !parent || parent.closest('.only-read, script, style')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const lines = [...range.getClientRects()];
    const scale = parent.closest('svg')?.getScreenCTM()?.a ?? 1;
    const size = parseFloat(getComputedStyle(parent).fontSize) * scale;
    found.push({ text, parent, box: range.getBoundingClientRect(), lines, size });
  }
  return found;
}

/** The boxes around a text that could cut it off, from the inside out. */
function listAncestors(parent: Element): readonly Element[] {
  const found: Element[] = [];
  for (let outer: Element | null = parent; outer?.closest('.wall'); outer = outer.parentElement) {
    const isBox = getComputedStyle(outer).display !== 'inline' && !(outer instanceof SVGElement);
    if (isBox && outer.getBoundingClientRect().height > 0) found.push(outer);
  }
  return found;
}

function isOutside({ box, size }: DrawnText, outer: Element): boolean {
  const around = outer.getBoundingClientRect();
  // Ascenders and descenders are part of the box, not of the letters: allow a quarter.
  const slack = size / 4;
  const isWide = box.left < around.left - 2 || box.right > around.right + 2;
  return isWide || box.top < around.top - slack || box.bottom > around.bottom + slack;
}
