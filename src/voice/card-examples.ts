/**
 * What the listener learns from a voice card: examples of every phrase that its recordings
 * cover, whole or joined from parts. "theatre wall depth two four" is made of the sound of
 * "theatre wall depth", "two" and "four"; joining the sound loses less than joining what
 * was made of it. An example costs some 30 ms of work, so they are made when they are first
 * wanted and kept.
 */
import type { CardVoice } from './card-voice';
import { splitWords } from './grammar';
import { trimToSpeech } from './mel-filter';
import { phraseDistance } from './phrase-distance';
import { VoiceSpace } from './speech-traits';
import type { SpeechTraits, SpeechVectors } from './speech-traits';
import { pcmToSound } from './voice-card';

/** How much stays around a part that is joined to others, in frames of 10 ms? Soft onsets, no pause. */
const JOINED_LEAD_FRAMES = 4;
const JOINED_TAIL_FRAMES = 4;
/** How many of a phrase's nearest examples are averaged? One alone may be an accident. */
const NEAREST_EXAMPLES = 3;

/** Makes traits of sound at 16 kHz; null where it is too short for anything. */
export type HearTraits = (pcm: Float32Array) => Promise<SpeechTraits | null>;

export class CardExamples {
  readonly #made = new Map<string, readonly SpeechVectors[]>();
  readonly #soundsOf = new Map<string, Float32Array[]>();
  #space: VoiceSpace | null = null;

  constructor(
    private readonly hear: HearTraits,
    { takes }: CardVoice,
  ) {
    for (const { text, pcm } of takes) {
      const key = splitWords(text).join(' ');
      this.#soundsOf.set(key, [...(this.#soundsOf.get(key) ?? []), pcmToSound(pcm)]);
    }
  }

  /** Whether examples of this text have been made. */
  knows(text: string): boolean {
    return (this.#made.get(text)?.length ?? 0) > 0;
  }

  /** Distance of an utterance from the examples of each text, in the order given; infinite where there are none. */
  distances(heard: SpeechTraits, texts: readonly string[]): readonly number[] {
    if (!this.#space) return texts.map(() => Infinity);
    const vectors = this.#space.place(heard);
    return texts.map((text) => meanOfNearest(vectors, this.#made.get(text) ?? []));
  }

  /** Makes the examples of a text, unless they are there or the recordings do not cover it. */
  async prepare(text: string): Promise<void> {
    if (this.#made.has(text)) return;
    this.#space ??= new VoiceSpace(await this.#listenToAll());
    const parts = coverText(text, new Set(this.#soundsOf.keys())).map(
      (part) => this.#soundsOf.get(part) ?? [],
    );
    const count = Math.max(0, ...parts.map(({ length }) => length));
    const made: SpeechVectors[] = [];
    for (let take = 0; take < count; take += 1) {
      const sounds = parts.flatMap((takes) => takes[take % takes.length] ?? []);
      const traits = await this.hear(joinSounds(sounds));
      // A recording in which the network hears no sound of a phone is no example of anything.
      if (traits && traits.count > 0) made.push(this.#space.place(traits));
    }
    this.#made.set(text, made);
  }

  async #listenToAll(): Promise<readonly SpeechTraits[]> {
    const all: SpeechTraits[] = [];
    for (const sound of [...this.#soundsOf.values()].flat()) {
      const traits = await this.hear(sound);
      if (traits) all.push(traits);
    }
    return all;
  }
}

function meanOfNearest(heard: SpeechVectors, examples: readonly SpeechVectors[]): number {
  const nearest = examples
    .map((vectors) => phraseDistance(heard, vectors))
    // One that is far longer or shorter takes nothing from the others.
    .filter((distance) => distance < Infinity)
    .sort((a, b) => a - b)
    .slice(0, NEAREST_EXAMPLES);
  return nearest.length === 0
    ? Infinity
    : nearest.reduce((sum, distance) => sum + distance, 0) / nearest.length;
}
/** The fewest recorded texts that make up a text, in order; none where they can't. */
export function coverText(text: string, recorded: ReadonlySet<string>): readonly string[] {
  const words = splitWords(text);
  // best[n]: the fewest parts for the first n words.
  const best: (readonly string[] | null)[] = [[]];
  for (let end = 1; end <= words.length; end += 1) {
    best[end] = null;
    for (let from = 0; from < end; from += 1) {
      const before = best[from];
      const part = words.slice(from, end).join(' ');
      if (!before || !recorded.has(part)) continue;
      const found = best[end];
      if (!found || before.length + 1 < found.length) best[end] = [...before, part];
    }
  }
  return best[words.length] ?? [];
}

/** One recording stays as it is; several lose the quiet between them. */
function joinSounds(sounds: readonly Float32Array[]): Float32Array {
  const [only] = sounds;
  if (only && sounds.length === 1) return only;
  const parts = sounds.map((sound) => trimToSpeech(sound, JOINED_LEAD_FRAMES, JOINED_TAIL_FRAMES));
  const joined = new Float32Array(parts.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const part of parts) {
    joined.set(part, at);
    at += part.length;
  }
  return joined;
}
