/** Sizes of the drawing of an operation, in CSS pixels, and how much text fits a line. Pure. */

export const TITLE_PX = 17;
export const SMALL_PX = 14;
/** Line heights. */
export const TITLE_LINE = 22;
export const SMALL_LINE = 19;
/** Mean advance of the typeface as a part of its size; measured on the interface's own texts and rounded up. */
const ADVANCE = 0.53;
/** Room between columns for the lines that lead from one track to another. */
export const GUTTER = 64;
/** From lane to lane beside a track, for ways back and ways round. */
export const LANE = 13;
/** From the line of a track to its text. */
export const TEXT_INDENT = 28;
/** From the main line to the line of another way. */
export const BRANCH_INDENT = 40;
/** From a text's left edge to the words after a sign. */
export const SIGN_INDENT = 20;

/** About how wide a text is. */
export function widthOf(text: string, sizePx: number): number {
  return text.length * sizePx * ADVANCE;
}

/** Breaks a text into lines that fit; a word that is longer than a line stands alone on one. */
export function wrap(text: string, widthPx: number, sizePx: number): readonly string[] {
  const most = Math.max(8, Math.floor(widthPx / (sizePx * ADVANCE)));
  const lines: string[] = [];
  for (const word of text.split(' ')) {
    const last = lines.at(-1);
    if (last !== undefined && last.length + 1 + word.length <= most)
      lines[lines.length - 1] = `${last} ${word}`;
    else lines.push(word);
  }
  return lines;
}
