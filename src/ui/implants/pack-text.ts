/** A pack in words: where it stands, what its label says, what can be done with it. */
import type { PackEvent } from '../../domain';
import type { PackView } from '../../session';

/** How each state is called. A scanned pack is closed. */
export const STATE_TEXT: Readonly<Record<PackView['state'], string>> = {
  scanned: 'closed',
  opened: 'open',
  implanted: 'implanted',
  wasted: 'wasted',
  returned: 'returned, closed',
};

/** What may follow, with the words on the button. An open pack can't be returned: it is no longer sterile. */
const MOVES: Readonly<
  Record<PackView['state'], readonly { readonly event: PackEvent; readonly label: string }[]>
> = {
  scanned: [
    { event: 'opened', label: 'Opened' },
    { event: 'returned', label: 'Returned' },
  ],
  opened: [
    { event: 'implanted', label: 'Implanted' },
    { event: 'wasted', label: 'Wasted…' },
  ],
  implanted: [{ event: 'wasted', label: 'Taken out, wasted…' }],
  wasted: [],
  returned: [{ event: 'opened', label: 'Opened' }],
};

/** The moves that a pack allows. */
export function movesOf({ state }: PackView) {
  return MOVES[state];
}

/** Whether a move needs a reason first: waste does, and opening what is stopped. */
export function needsReason(pack: PackView, event: PackEvent): boolean {
  return event === 'wasted' || (event === 'opened' && pack.isStopped);
}

/** What the label says, in one line. */
export function labelToText({ label }: PackView): string {
  const parts = [
    label.product,
    label.lot === null ? null : `lot ${label.lot}`,
    label.serial === null ? null : `serial ${label.serial}`,
    label.expiresOn === null ? 'no expiry on the label' : `expires ${label.expiresOn}`,
  ];
  return parts.filter((part) => part !== null).join(', ');
}
