/**
 * Whether sound flows from an open microphone: a muted track and a context that the
 * browser holds back are told apart, and both are told when they are over. A context
 * that is held back is asked to go on, at once and whenever somebody acts.
 * Events: Media Capture and Streams (mute, unmute), Web Audio API (statechange), W3C.
 */
import { fault } from '../../domain';
import type { Fault } from '../../domain';

/** Calls back whenever somebody presses something in this window; returns the function that ends it. */
export type WatchGestures = (callback: () => void) => () => void;

/** Watches track and context; gives the function that ends it. `onPaused` gets null when sound flows again. */
export function watchFlow(
  track: MediaStreamTrack,
  context: AudioContext,
  watchGestures: WatchGestures,
  onPaused: (why: Fault | null) => void,
): () => void {
  let told: string | null = null;
  const look = (): void => {
    const why = reasonOf(track, context);
    const isNews = (why?.code ?? null) !== told;
    told = why?.code ?? null;
    if (isNews) onPaused(why);
    // Refused until somebody has pressed something; the next press asks again.
    if (why?.code === 'microphone-suspended') void context.resume().catch(() => undefined);
  };
  track.addEventListener('mute', look);
  track.addEventListener('unmute', look);
  context.addEventListener('statechange', look);
  const stopGestures = watchGestures(look);
  look();
  return () => {
    track.removeEventListener('mute', look);
    track.removeEventListener('unmute', look);
    context.removeEventListener('statechange', look);
    stopGestures();
  };
}

function reasonOf(track: MediaStreamTrack, context: AudioContext): Fault | null {
  if (track.muted) return fault('microphone-muted', { detail: track.label });
  // "interrupted" is newer than the typings: a call or another program has the sound.
  const state: string = context.state;
  return state === 'running' || state === 'closed'
    ? null
    : fault('microphone-suspended', { detail: state });
}
