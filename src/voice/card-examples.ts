/**
 * What the listener of examples gets from a voice card: templates of every phrase that
 * its recordings cover, whole or joined from parts. "theatre wall depth two four" is
 * made of the sound of "theatre wall depth", "two" and "four"; joining the sound loses
 * less than joining vectors (docs/voice.md has both). A template costs some 65 ms of
 * work, so they are made when they are first wanted and kept.
 */
import { splitWords } from './grammar';
import type { PhraseTemplate } from './phrase-templates';
import { trimToSpeech } from './mel-filter';
import type { SpeechEmbedding } from './speech-embedding';
import type { CardVoice } from './card-voice';
import { pcmToSound } from './voice-card';

/** How much stays around a part that is joined to others, in frames of 10 ms? Soft onsets, no pause. */
const JOINED_LEAD_FRAMES = 4;
const JOINED_TAIL_FRAMES = 4;

export class CardExamples {
  readonly #made = new Map<string, readonly PhraseTemplate[]>();
  readonly #soundsOf = new Map<string, Float32Array[]>();
  readonly #label: string;

  constructor(
    private readonly embedding: Pick<SpeechEmbedding, 'embed'>,
    { label, takes }: CardVoice,
  ) {
    this.#label = label;
    for (const { text, pcm } of takes) {
      const key = splitWords(text).join(' ');
      this.#soundsOf.set(key, [...(this.#soundsOf.get(key) ?? []), pcmToSound(pcm)]);
    }
  }

  /** Examples of a text that were made before; none where they were not, or can't be. */
  templatesOf(text: string): readonly PhraseTemplate[] {
    return this.#made.get(text) ?? [];
  }

  /** Makes the examples of a text, unless they are there or the recordings do not cover it. */
  async prepare(text: string): Promise<void> {
    if (this.#made.has(text)) return;
    const parts = coverText(text, new Set(this.#soundsOf.keys())).map(
      (part) => this.#soundsOf.get(part) ?? [],
    );
    const count = Math.max(0, ...parts.map(({ length }) => length));
    const made: PhraseTemplate[] = [];
    for (let take = 0; take < count; take += 1) {
      const sounds = parts.flatMap((takes) => takes[take % takes.length] ?? []);
      const vectors = await this.embedding.embed(joinSounds(sounds));
      made.push({ text, voice: `card ${this.#label}`, vectors });
    }
    this.#made.set(text, made);
  }
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
