/** Where the drawing of a track shows that the wall stays silent. Pure. */
import type { Column } from './drawing';

/** The stretches of a column in which nothing is announced. */
export function quietBands({
  blocks,
}: Column): readonly { readonly y: number; readonly height: number }[] {
  // prettier-ignore
  const heads = blocks.flatMap((block, index) =>
    block.kind === 'phase' || block.kind === 'way' || block.kind === 'end' ? [{ block, index }] : [],
  ); // prettier-ignore
  return heads.flatMap(({ block }, place) => {
    if (block.kind !== 'phase' || !block.isQuiet) return [];
    const next = heads[place + 1]?.block;
    const end = next ? next.y + (next.kind === 'phase' ? 6 : 2) : block.y + block.height;
    return [{ y: block.y + 12, height: end - block.y - 12 }];
  });
}
