/**
 * Picks the largest of a few type sizes at which a text keeps to its lines, so that
 * the longest text of a procedure is never cut off. Runs when the text or the
 * width changes and when the font arrives; moves nothing otherwise.
 */
import type { Attachment } from 'svelte/attachments';

/** A type size in wall units and how many lines it may take, largest first. */
export type FitStep = readonly [size: number, lines: number];

/** The sizes with their lines, largest first. */
export function listSteps(sizes: Readonly<Record<number, number>>): readonly FitStep[] {
  return Object.entries(sizes)
    .map(([size, lines]): FitStep => [Number(size), lines])
    .sort((a, b) => b[0] - a[0]);
}

/** The first step that fits; the last one where none does. */
export function chooseStep(
  steps: readonly FitStep[],
  fits: (step: FitStep) => boolean,
): FitStep | undefined {
  return steps.find(fits) ?? steps.at(-1);
}

/**
 * Sets `--fit` on the element; its CSS must use it for the font size. The sizes come
 * as size: lines.
 */
export function fitText(sizes: Readonly<Record<number, number>>): Attachment<HTMLElement> {
  const steps = listSteps(sizes);
  return (element) => {
    const measure = () => {
      const chosen = chooseStep(steps, (step) => {
        element.style.setProperty('--fit', String(step[0]));
        return keepsTo(element, step[1]);
      });
      if (chosen) element.style.setProperty('--fit', String(chosen[0]));
    };
    let width = 0;
    const resized = new ResizeObserver(() => {
      if (element.clientWidth === width) return;
      width = element.clientWidth;
      measure();
    });
    const changed = new MutationObserver(measure);
    resized.observe(element);
    changed.observe(element, { childList: true, characterData: true, subtree: true });
    measure();
    void element.ownerDocument.fonts.ready.then(measure);
    return () => {
      resized.disconnect();
      changed.disconnect();
    };
  };
}

function keepsTo(element: HTMLElement, lines: number): boolean {
  const style = getComputedStyle(element);
  const padding = parseFloat(style.paddingTop) + parseFloat(style.paddingBottom);
  const textHeight = element.clientHeight - padding;
  // Half a line of slack: rounding must not count as another line.
  const hasLines = textHeight < parseFloat(style.lineHeight) * (lines + 0.5);
  const box = element.closest('[data-fit-box]');
  const last = box?.lastElementChild;
  const boxFits = !box || !last || bottomOf(last) <= bottomOf(box) + 1;
  return hasLines && boxFits && element.scrollWidth <= element.clientWidth;
}

function bottomOf(element: Element): number {
  return element.getBoundingClientRect().bottom;
}
