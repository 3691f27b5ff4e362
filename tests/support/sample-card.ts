/** An invented voice card whose recordings are tones: only its form matters. */
import type { VoiceCard } from '../../src/voice';

export function makeCard(change: Partial<VoiceCard> = {}): VoiceCard {
  const pcm = Int16Array.from({ length: 3_200 }, (_, at) => Math.round(9_000 * Math.sin(at / 9)));
  return {
    format: 1,
    id: 'card-0123456789',
    label: 'surgeon A',
    language: 'en-GB',
    version: 3,
    madeAt: 1_700_000_000_000,
    addressPhrase: 'theatre wall',
    takes: [
      { text: 'theatre wall step done', pcm },
      { text: 'two', pcm },
    ],
    ...change,
  };
}
