/**
 * What is loud but too short for a word: strokes of a hammer and a monitor's beeps, made by
 * arithmetic (src/cli/noise-mix.ts); a tone that rises and falls as syllables do stands for
 * a word. What counts as right follows from how the sound was put together.
 */
import { describe, expect, it } from 'vitest';
import { makeNoise } from '../../src/cli/noise-mix';
import { FRAME_SAMPLES, UtteranceCutter } from '../../src/voice';
import type { UtteranceEvent } from '../../src/voice';
import { hiss } from './real-listener';

interface Timed {
  readonly atMs: number;
  readonly event: UtteranceEvent;
}

function eventsOf(sound: Float32Array): readonly Timed[] {
  const cutter = new UtteranceCutter();
  const found: Timed[] = [];
  for (let from = 0; from + FRAME_SAMPLES <= sound.length; from += FRAME_SAMPLES) {
    const event = cutter.next(sound.slice(from, from + FRAME_SAMPLES));
    if (event && event.type !== 'silent') found.push({ atMs: (from + FRAME_SAMPLES) / 16, event });
  }
  return found;
}

const typesOf = (events: readonly Timed[]): string[] => events.map(({ event }) => event.type);

/** A 400 Hz tone from one moment to another, louder and softer four times a second. */
function say(sound: Float32Array, fromMs: number, toMs: number, amplitude: number): void {
  for (let at = fromMs * 16; at < toMs * 16; at += 1) {
    const seconds = at / 16_000;
    const loudness = amplitude * (0.8 + 0.2 * Math.sin(2 * Math.PI * 4 * seconds));
    sound[at] = (sound[at] ?? 0) + loudness * Math.sin(2 * Math.PI * 400 * seconds);
  }
}

/** A quiet room of some seconds in which somebody hammers, a stroke every 550 ms from the start on. */
function hammering(ms: number): Float32Array {
  const strokes = makeNoise('hammer', ms * 16, 5);
  return hiss(ms).map((room, at) => room + 0.1 * (strokes[at] ?? 0));
}

describe('strokes', () => {
  it('[VOI94] takes no stroke of a hammer for speech, however long the hammering goes on', () => {
    const events = eventsOf(hammering(12_000).subarray(1_000 * 16));
    expect(new Set(typesOf(events))).toEqual(new Set(['began', 'dropped']));
    // Each stroke is over before the next: 20 of them, none joined to another.
    expect(typesOf(events).filter((type) => type === 'dropped')).toHaveLength(20);
  });

  it('[VOI94] takes no beep of a monitor for speech', () => {
    const beeps = makeNoise('beeps', 12_000 * 16, 5);
    const sound = hiss(12_000).map((room, at) => room + 0.03 * (beeps[at] ?? 0));
    const types = new Set(typesOf(eventsOf(sound.subarray(500 * 16))));
    expect(types).toEqual(new Set(['began', 'dropped']));
  });

  it('[VOI95] hears a word between strokes without the strokes before it, and ends it in spite of those after it', () => {
    const sound = hammering(8_000);
    // Strokes fall at 3,300, 3,850 and 4,400 ms.
    say(sound, 3_650, 4_000, 0.1);
    const events = eventsOf(sound).filter(({ event }) => !/began|dropped/.test(event.type));
    const [paused, ended] = events;
    if (paused?.event.type !== 'paused') throw new Error('No pause after the word');
    const beganMs = paused.atMs - paused.event.utterance.pcm.length / 16;
    expect(beganMs).toBeGreaterThanOrEqual(3_650 - 260);
    expect(beganMs).toBeLessThanOrEqual(3_650);
    expect(typesOf(events)).toEqual(['paused', 'ended']);
    // 600 ms of silence, and at most the stroke that it was waited for.
    expect((ended?.atMs ?? Infinity) - paused.atMs).toBeLessThanOrEqual(500 + 300);
  });

  it('[VOI96] keeps a faint short sound with the words before it: noise may hide the rest of it', () => {
    const faint = hiss(5_000).map((room) => room * 300);
    say(faint, 3_000, 3_500, 0.6);
    // Some 10 dB above the room for 60 ms, 350 ms after the word.
    say(faint, 3_850, 3_910, 0.25);
    expect(typesOf(eventsOf(faint))).toEqual(['began', 'paused', 'resumed', 'paused', 'ended']);
  });

  it('[VOI96] goes on with words that follow after a pause, and ends after a stroke that does', () => {
    const loud = hiss(5_000);
    say(loud, 3_000, 3_500, 0.1);
    const words = Float32Array.from(loud);
    say(words, 3_850, 4_050, 0.1);
    expect(typesOf(eventsOf(words))).toEqual(['began', 'paused', 'resumed', 'paused', 'ended']);
    say(loud, 3_850, 3_890, 0.1);
    expect(typesOf(eventsOf(loud))).toEqual(['began', 'paused', 'ended']);
  });
});
