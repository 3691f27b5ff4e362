/** What the foot of the wall says: whether it hears, what it heard, lasting marks. Pure. */
import { faultToOperatorText } from '../../domain';
import type { Fault } from '../../domain';
import type { CaseView } from '../../session';
import { hearsBadly, qualityToText } from '../parts/ear-text';
import type { EarStatus } from '../services';

export type EarSign = 'listening' | 'hearing' | 'badly' | 'speaking' | 'starting' | 'deaf';

export interface EarText {
  readonly sign: EarSign;
  readonly status: string;
  /** What to do about it, where it can't hear. */
  readonly next: string;
}

/** Whether the wall hears, in words. */
export function earToText(ear: EarStatus, addressPhrase: string): EarText {
  switch (ear.state) {
    case 'listening':
    case 'hearing':
      if (ear.isGated) return { sign: 'speaking', status: 'The wall speaks, listens after', next: '' };
      if (ear.isShut) return { sign: 'starting', status: 'Press the pedal or key to speak', next: '' };
      if (hearsBadly(ear)) return { sign: 'badly', status: qualityToText(ear), next: '' };
      return ear.state === 'hearing'
        ? { sign: 'hearing', status: 'Hears speech', next: '' }
        : { sign: 'listening', status: toListening(addressPhrase), next: '' };
    case 'starting':
      return { sign: 'starting', status: 'Starts to listen', next: '' };
    case 'off':
      return { sign: 'deaf', status: 'Does not listen', next: 'Switch the ear on at the desk.' };
    case 'lost':
    case 'failed': {
      const text = ear.fault && faultToOperatorText(ear.fault);
      return {
        sign: 'deaf',
        status: `Can’t hear. ${text?.happened ?? 'The listener stopped'}`,
        next: text?.next ?? 'The case goes on by keyboard and desk.',
      };
    }
  }
} // prettier-ignore

/** Without an address phrase a key was pressed for it. */
function toListening(addressPhrase: string): string {
  return addressPhrase === '' ? 'Listens now' : `Listens for “${addressPhrase} …”`;
}

export interface HeardText {
  readonly words: string;
  readonly outcome: 'done' | 'refused' | 'not-understood';
  readonly message: string;
}

/** What the wall heard last, and what came of it. */
export function heardToText(last: CaseView['lastOrder']): HeardText | null {
  if (!last) return null;
  const { outcome } = last;
  const message = outcome === 'done' ? '' : (last.message?.happened ?? '');
  // Some messages name the words themselves.
  const words = last.words !== null && !message.includes(`“${last.words}”`) ? last.words : '';
  return { words, outcome, message };
} // prettier-ignore

export interface Mark {
  readonly id: 'unsaved' | 'no-disk' | 'muted' | 'quiet';
  readonly text: string;
  readonly isGrave: boolean;
}

/** Marks that last as long as their reason does, gravest first. */
export function marksOf(view: CaseView | null, storage: Fault | null): readonly Mark[] {
  const marks: Mark[] = [];
  const unsaved = view?.unsavedCount ?? 0;
  if (unsaved > 0) marks.push({ id: 'unsaved', text: `Not saved: ${unsaved}`, isGrave: true });
  else if (view?.storageFault ?? storage) {
    marks.push({ id: 'no-disk', text: 'Record not on disk', isGrave: true });
  }
  if (view?.isMuted) marks.push({ id: 'muted', text: 'Voice muted', isGrave: false });
  else if (view?.isQuiet) marks.push({ id: 'quiet', text: 'Quiet phase', isGrave: false });
  return marks;
}
