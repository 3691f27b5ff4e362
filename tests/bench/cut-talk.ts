/** Cuts talk as the wall does: every stretch on which it could decide. */
import { UtteranceCutter } from '../../src/voice/hearing/utterances';
import { hiss, join } from '../voice/real-listener';

/** After how much silence is a whole phrase taken? As in src/voice/hearing/hearing.ts. */
const SETTLE_MS = 200;

/** Stretches of speech that are followed by enough silence to be taken for a phrase. */
export function cutTalk(sound: Float32Array): Float32Array[] {
  const cutter = new UtteranceCutter();
  const found: Float32Array[] = [];
  let paused: Float32Array | null = null;
  const all = join(hiss(500), sound, hiss(800));
  for (let from = 0; from + 160 <= all.length; from += 160) {
    const event = cutter.next(all.slice(from, from + 160));
    if (event?.type === 'paused') paused = event.utterance.pcm;
    else if (event?.type === 'silent' && event.silenceMs === SETTLE_MS && paused) {
      found.push(paused);
      paused = null;
    }
  }
  return found;
}
