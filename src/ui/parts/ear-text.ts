/** How the wall hears, in two or three words. */
import type { EarStatus } from '../services';

const TEXTS: Readonly<Record<EarStatus['state'], string>> = {
  off: 'Not listening',
  starting: 'Starting to listen',
  listening: 'Listening',
  hearing: 'Hearing speech',
  lost: 'Does not hear',
  failed: 'Does not hear',
};

/** The state of the ear as a person reads it. */
export function earToText({ state, isGated }: EarStatus): string {
  return isGated && (state === 'listening' || state === 'hearing') ? 'Speaking' : TEXTS[state];
}
