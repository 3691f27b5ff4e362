/** Marks of the time line in words, for the table and for those who can't see the picture. */
import type { HoldPointId, OrderType } from '../../domain';
import { MILESTONES } from '../../domain';
import type { Milestone } from '../../domain';
import type { Mark } from '../../review';
import type { CaptureLine } from '../../session';
import { undoToText } from '../desk/undo-text';

/** What each kind of mark is called. */
export const MARK_NAMES: Readonly<Record<Mark['kind'], string>> = {
  loop: 'Done again',
  override: 'Override',
  refusal: 'Refused at a hold point',
  held: 'Held again',
  skip: 'Left out',
  restart: 'Restart of the program',
  milestone: 'Named time',
  late: 'Late cue',
  undone: 'Taken back',
  confirmed: 'Read-back confirmed',
  corrected: 'Read-back corrected',
  lapsed: 'Read-back lapsed',
};

/** One mark as a sentence. `titleOf` gives the title of a hold point; `captures` say values with their units. */
export function markToText(
  mark: Mark,
  titleOf: (id: HoldPointId) => string,
  captures: readonly CaptureLine[],
): string {
  const holdPoint = mark.holdPoint ? titleOf(mark.holdPoint) : '';
  switch (mark.kind) {
    case 'override':
      return `Override of ${holdPoint}, without: ${mark.text}`;
    case 'refusal':
      return `Refused at ${holdPoint}`;
    case 'held':
      return `${mark.text} held again at ${holdPoint}`;
    case 'milestone':
      return MILESTONES[mark.text as Milestone];
    case 'restart':
      return 'The program was restarted: times across it come from the wall clock';
    case 'loop':
      return `Again: ${mark.text}`;
    case 'late':
      return `Not ready when needed: ${mark.text}`;
    case 'confirmed':
    case 'corrected':
    case 'lapsed':
      return mark.size === null ? mark.text : sizeToText(mark.size, captures);
    case 'undone':
      return `Taken back: ${undoToText(mark.text as OrderType)}`;
    case 'skip':
      return `Left out: ${mark.text}`;
  }
}

/** "Depth 24 mm". */
function sizeToText(
  { capture: id, value }: NonNullable<Mark['size']>,
  captures: readonly CaptureLine[],
): string {
  const capture = captures.find((line) => line.id === id);
  return `${capture?.label ?? id} ${capture?.toText(value) ?? value}`;
}
