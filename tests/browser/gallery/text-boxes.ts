/**
 * Measures the texts of a page as drawn. These functions run inside the page, so each
 * stands alone. Texts that are only read aloud don't count.
 */

/** Texts that reach out of an ancestor's box or of the screen. */
export function clippedTexts(): string[] {
  const found: string[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent?.trim() ?? '';
    const parent = node.parentElement;
    if (text === '' || !parent || parent.closest('.only-read, script, style')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const box = range.getBoundingClientRect();
    // Ascenders and descenders are part of the box, not of the letters: allow a quarter.
    const slack = parseFloat(getComputedStyle(parent).fontSize) / 4;
    for (let outer: Element | null = parent; outer; outer = outer.parentElement) {
      const around = outer.getBoundingClientRect();
      const isBlock = getComputedStyle(outer).display !== 'inline' && around.height > 0;
      if (!isBlock || outer === document.body || outer === document.documentElement) continue;
      if (outer.id === 'app' || outer instanceof SVGElement) continue;
      const isOut =
        box.left < around.left - 2 ||
        box.right > around.right + 2 ||
        box.top < around.top - slack ||
        box.bottom > around.bottom + slack;
      if (isOut) {
        found.push(`"${text}" leaves <${outer.tagName.toLowerCase()} class="${outer.className}">`);
        break;
      }
    }
    if (box.right > innerWidth + 1 || box.bottom > innerHeight + 1 || box.left < -1) {
      found.push(`"${text}" leaves the screen`);
    }
  }
  return found;
}

/** Pairs of texts whose letters lie on each other. */
export function overlappingTexts(): string[] {
  const boxes: { text: string; left: number; right: number; top: number; bottom: number }[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent?.trim() ?? '';
    const parent = node.parentElement;
    if (text === '' || !parent || parent.closest('.only-read, script, style')) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    const size = parseFloat(getComputedStyle(parent).fontSize);
    for (const rect of range.getClientRects()) {
      // Letters are lower than their box: what counts is about from cap height to baseline.
      const middle = (rect.top + rect.bottom) / 2;
      const [top, bottom] = [middle - size * 0.36, middle + size * 0.36];
      boxes.push({ text, left: rect.left + 1, right: rect.right - 1, top, bottom });
    }
  }
  return boxes.flatMap((a, index) =>
    boxes
      .slice(index + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `"${a.text}" and "${b.text}"`),
  );
}

/** Texts set in less than 40 px. */
export function smallTexts(): string[] {
  const found: string[] = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const text = node.textContent?.trim() ?? '';
    const parent = node.parentElement;
    if (text === '' || !parent || parent.closest('.only-read, script, style')) continue;
    const own = parseFloat(getComputedStyle(parent).fontSize);
    // Inside a drawing, sizes are scaled with it.
    const drawing = parent.closest('svg');
    const scale = drawing ? (drawing.getScreenCTM()?.a ?? 1) : 1;
    if (own * scale < 39.99) found.push(`"${text}" is ${(own * scale).toFixed(1)} px`);
  }
  return found;
}
