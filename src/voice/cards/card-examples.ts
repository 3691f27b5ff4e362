/**
 * What the listener learns from a voice card: examples of every phrase that its recordings
 * cover, whole or joined from parts. "theatre wall depth two four" is made of the sound of
 * "theatre wall depth", "two" and "four"; joining the sound loses less than joining what
 * was made of it. An example costs some 30 ms of work, so they are made one at a time, of
 * what can be said now, and kept for when it can be said again.
 */
import type { CardLearning } from '../../domain';
import type { CardTake, CardVoice } from './card-voice';
import { CARD_LIMITS } from '../decision/decision-limits';
import { splitWords } from '../grammar/grammar';
import { trimToSpeech } from '../models/prepared-sound';
import { phraseDistance } from '../network/phrase-distance';
import { VoiceSpace } from '../network/speech-traits';
import type { SpeechTraits, SpeechVectors } from '../network/speech-traits';
import { pcmToSound } from './voice-card';

/** How much stays around a part that is joined to others, in frames of 10 ms? Soft onsets, no pause. */
const JOINED_LEAD_FRAMES = 4;
const JOINED_TAIL_FRAMES = 4;
/** How many joined phrases are kept beyond what can be said now? Some 100 kB each. */
const MOST_KEPT = 200;

/** Makes traits of sound at 16 kHz; null where it is too short for anything. */
export type HearTraits = (pcm: Float32Array) => Promise<SpeechTraits | null>;

/** A phrase that is joined from parts, and how far its examples are made. */
interface Joined {
  /** The recordings of each part, in order; none where the card does not cover the phrase. */
  readonly parts: readonly (readonly CardTake[])[];
  /** How many examples there can be. */
  readonly count: number;
  readonly examples: SpeechVectors[];
  /** How many sounds were joined and listened to. */
  done: number;
}

export class CardExamples {
  readonly #takesOf = new Map<string, CardTake[]>();
  /** Of whole recordings, by text: made once, they serve every moment. */
  readonly #recorded = new Map<string, SpeechVectors[]>();
  /** By text, the longest unwanted first. */
  readonly #joined = new Map<string, Joined>();
  #wanted: readonly Joined[] = [];
  /** What was made of the recordings so far; empty again when the space is made of it. */
  #heard: { readonly text: string; readonly traits: SpeechTraits | null }[] = [];
  #space: VoiceSpace | null = null;

  constructor(
    private readonly hear: HearTraits,
    private readonly card: CardVoice,
  ) {
    for (const take of card.takes) {
      const takes = this.#takesOf.get(toKey(take));
      if (takes) takes.push(take);
      else this.#takesOf.set(toKey(take), [take]);
    }
  }

  /** Whether they are of this very card, sample by sample: then there is nothing to learn again. */
  isOf({ takes }: CardVoice): boolean {
    return (
      takes.length === this.card.takes.length &&
      takes.every((take, index) => isSameTake(take, this.card.takes[index]))
    );
  }

  /** Which texts can be said now: their examples are made, and they stay whatever else goes. */
  want(texts: readonly string[]): void {
    this.#wanted = texts
      .filter((text) => !this.#takesOf.has(text))
      .map((text) => {
        const joined = this.#joined.get(text) ?? this.#planJoining(text);
        this.#joined.delete(text);
        this.#joined.set(text, joined);
        return joined;
      });
    const surplus = this.#joined.size - this.#wanted.length - MOST_KEPT;
    for (const text of [...this.#joined.keys()].slice(0, Math.max(0, surplus)))
      this.#joined.delete(text);
  }

  /** How many sounds have to be listened to for what is wanted, and how many have been. */
  get learning(): CardLearning {
    const sum = (ofEach: (joined: Joined) => number): number =>
      this.#wanted.reduce((all, joined) => all + ofEach(joined), 0);
    const takes = this.card.takes.length;
    return {
      done: (this.#space ? takes : this.#heard.length) + sum(({ done }) => done),
      total: takes + sum(({ count }) => count),
    };
  }

  /** Listens to one sound of those that are still wanted. */
  async learnSome(): Promise<void> {
    if (!this.#space) return this.#hearNext();
    const joined = this.#wanted.find(({ done, count }) => done < count);
    if (!joined) return;
    const takes = joined.parts.flatMap((part) => part[joined.done % part.length] ?? []);
    const traits = await this.hear(joinSounds(takes.map(({ pcm }) => pcmToSound(pcm))));
    joined.done += 1;
    // A sound in which the network hears no sound of a phone is no example of anything.
    if (traits && traits.count > 0) joined.examples.push(this.#space.place(traits));
  }

  /** Whether there are examples of this text. */
  knows(text: string): boolean {
    return this.#examplesOf(text).length > 0;
  }

  /** Distance of an utterance from the examples of each text, in the order given; infinite where there are none. */
  distances(heard: SpeechTraits, texts: readonly string[]): readonly number[] {
    if (!this.#space) return texts.map(() => Infinity);
    const vectors = this.#space.place(heard);
    return texts.map((text) => meanOfNearest(vectors, this.#examplesOf(text)));
  }

  #examplesOf(text: string): readonly SpeechVectors[] {
    return this.#recorded.get(text) ?? this.#joined.get(text)?.examples ?? [];
  }

  #planJoining(text: string): Joined {
    const parts = coverText(text, new Set(this.#takesOf.keys())).map(
      (part) => this.#takesOf.get(part) ?? [],
    );
    const count = Math.max(0, ...parts.map(({ length }) => length));
    return { parts, count, examples: [], done: 0 };
  }

  /** The voice's own terms take all of its recordings. */
  async #hearNext(): Promise<void> {
    const take = this.card.takes[this.#heard.length];
    if (take)
      this.#heard.push({ text: toKey(take), traits: await this.hear(pcmToSound(take.pcm)) });
    if (this.#heard.length < this.card.takes.length) return;
    const space = new VoiceSpace(this.#heard.flatMap(({ traits }) => traits ?? []));
    for (const { text, traits } of this.#heard)
      if (traits && traits.count > 0)
        this.#recorded.set(text, [...(this.#recorded.get(text) ?? []), space.place(traits)]);
    this.#heard = [];
    this.#space = space;
  }
}

function toKey({ text }: CardTake): string {
  return splitWords(text).join(' ');
}

function isSameTake(a: CardTake, b: CardTake | undefined): boolean {
  return (
    a.text === b?.text &&
    a.pcm.length === b.pcm.length &&
    a.pcm.every((sample, at) => sample === b.pcm[at])
  );
}

function meanOfNearest(heard: SpeechVectors, examples: readonly SpeechVectors[]): number {
  const nearest = examples
    .map((vectors) => phraseDistance(heard, vectors))
    // One that is far longer or shorter takes nothing from the others.
    .filter((distance) => distance < Infinity)
    .sort((a, b) => a - b)
    .slice(0, CARD_LIMITS.nearestExamples);
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
