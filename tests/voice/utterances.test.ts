import { describe, expect, it } from 'vitest';
import { FRAME_SAMPLES, UtteranceCutter, VoiceActivity } from '../../src/voice';
import type { UtteranceEvent } from '../../src/voice';
import { hiss, join } from './real-listener';

/** A stand-in for speech: a 400 Hz tone whose loudness rises and falls four times a second, as syllables do. */
function tone(ms: number, amplitude = 0.2): Float32Array {
  return Float32Array.from({ length: ms * 16 }, (_, i) => {
    const seconds = i / 16_000;
    const syllable = 0.6 + 0.4 * Math.sin(2 * Math.PI * 4 * seconds);
    return amplitude * syllable * Math.sin(2 * Math.PI * 400 * seconds);
  });
}

/** Even noise of a ventilated room. */
function noise(ms: number, amplitude: number): Float32Array {
  return hiss(ms).map((sample) => sample * 2000 * amplitude);
}

function add(a: Float32Array, b: Float32Array): Float32Array {
  return a.map((sample, i) => sample + (b[i] ?? 0));
}

function framesOf(sound: Float32Array): Float32Array[] {
  const count = Math.floor(sound.length / FRAME_SAMPLES);
  return Array.from({ length: count }, (_, i) =>
    sound.slice(i * FRAME_SAMPLES, (i + 1) * FRAME_SAMPLES),
  );
}

function eventsOf(sound: Float32Array): { atMs: number; event: UtteranceEvent }[] {
  const cutter = new UtteranceCutter();
  return framesOf(sound).flatMap((frame, i) => {
    const event = cutter.next(frame);
    return event && event.type !== 'silent' ? [{ atMs: (i + 1) * 10, event }] : [];
  });
}

const typesOf = (sound: Float32Array): string[] => eventsOf(sound).map(({ event }) => event.type);

describe('voice activity', () => {
  it('[VOI5] hears nothing in a quiet room', () => {
    expect(typesOf(hiss(5000))).toEqual([]);
  });

  it('[VOI5] takes a steady noise for the room, and still hears speech 10 dB above it', () => {
    const room = noise(6000, 0.05);
    const speech = join(new Float32Array(4000 * 16), tone(1000, 0.4), new Float32Array(1000 * 16));
    const during = eventsOf(add(room, speech));
    expect(during.filter(({ atMs }) => atMs > 1000 && atMs < 4000)).toEqual([]);
    expect(during.filter(({ atMs }) => atMs >= 4000).map(({ event }) => event.type)).toEqual([
      'began',
      'paused',
      'ended',
    ]);
  });

  it('[VOI5] gives the same answer for the same frames', () => {
    const sound = join(hiss(500), tone(700), hiss(900));
    const run = (): boolean[] => {
      const activity = new VoiceActivity();
      return framesOf(sound).map((frame) => activity.next(frame).isSpeech);
    };
    expect(run()).toEqual(run());
  });
});

describe('utterances', () => {
  it('[VOI6] announces a pause soon after speech and the end after a longer silence', () => {
    const events = eventsOf(join(hiss(500), tone(1000), hiss(1000)));
    expect(events.map(({ event }) => event.type)).toEqual(['began', 'paused', 'ended']);
    // Speech ends at 1500 ms; the smoothed level needs a few frames to fall.
    const [, paused, ended] = events;
    expect(paused?.atMs).toBeGreaterThanOrEqual(1580);
    expect(paused?.atMs).toBeLessThanOrEqual(1750);
    expect((ended?.atMs ?? 0) - (paused?.atMs ?? 0)).toBe(500);
  });

  it('[VOI6] keeps one utterance together over a pause between words', () => {
    const sound = join(hiss(500), tone(600), hiss(350), tone(400), hiss(1000));
    expect(typesOf(sound)).toEqual(['began', 'paused', 'resumed', 'paused', 'ended']);
  });

  it('[VOI6] holds the whole speech with some sound before it', () => {
    const ended = eventsOf(join(hiss(500), tone(1000), hiss(1000))).at(-1)?.event;
    if (ended?.type !== 'ended') throw new Error('No utterance ended');
    expect(ended.utterance.speechMs).toBeGreaterThanOrEqual(980);
    expect(ended.utterance.pcm.length / 16).toBeGreaterThanOrEqual(1000 + 200 + 600);
  });

  it('[VOI5] drops a click', () => {
    expect(typesOf(join(hiss(500), tone(20), hiss(1000)))).toEqual(['began', 'dropped']);
  });

  it('[VOI6] cuts talk that is longer than any command', () => {
    const first = eventsOf(join(hiss(500), tone(8000), hiss(1000))).find(
      ({ event }) => event.type === 'ended',
    )?.event;
    expect(first).toMatchObject({ type: 'ended', utterance: { isTooLong: true } });
  });
});
