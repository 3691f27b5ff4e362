/**
 * How well the texts of a voice card are told apart: the distance between the recordings
 * of one text against that to the nearest recording of another, by the comparison that
 * the listener uses for a card. Distances as in phrase-distance.ts: 0 is equal.
 */
import type { HearTraits } from './card-examples';
import type { CardTake } from './card-voice';
import { DECISION_LIMITS } from '../decision/decision-limits';
import { phraseDistance } from '../network/phrase-distance';
import { VoiceSpace } from '../network/speech-traits';
import type { SpeechTraits, SpeechVectors } from '../network/speech-traits';
import { pcmToSound } from './voice-card';

/** mixed-up: another text is nearer than one's own; close: hardly farther; once: there is nothing to compare with. */
export type Apartness = 'well' | 'close' | 'mixed-up' | 'once';

export interface ToldApart {
  readonly text: string;
  /** Between its own recordings, the farthest; null where there is only one. */
  readonly ownDistance: number | null;
  /** To the nearest recording of another text; null where there is no other. */
  readonly otherDistance: number | null;
  /** Which text that is. */
  readonly nearest: string | null;
  readonly apart: Apartness;
}

interface Spoken {
  readonly text: string;
  readonly vectors: SpeechVectors;
}

/** Compares every recording with every other; those told apart worst come first. */
export async function tellApart(
  hear: HearTraits,
  takes: readonly CardTake[],
): Promise<readonly ToldApart[]> {
  const heard: { readonly text: string; readonly traits: SpeechTraits }[] = [];
  for (const { text, pcm } of takes) {
    const traits = await hear(pcmToSound(pcm));
    if (traits) heard.push({ text, traits });
  }
  const space = new VoiceSpace(heard.map(({ traits }) => traits));
  const spoken = heard.map(({ text, traits }) => ({ text, vectors: space.place(traits) }));
  return [...new Set(takes.map(({ text }) => text))]
    .map((text) => compareText(text, spoken))
    .sort((a, b) => gapOf(a) - gapOf(b));
}

function compareText(text: string, spoken: readonly Spoken[]): ToldApart {
  const own = spoken.filter((one) => one.text === text);
  const others = spoken.filter((one) => one.text !== text);
  const ownDistance = own
    .flatMap((a, at) => own.slice(at + 1).map((b) => phraseDistance(a.vectors, b.vectors)))
    .reduce<number | null>((most, distance) => Math.max(most ?? 0, distance), null);
  let [otherDistance, nearest]: [number | null, string | null] = [null, null];
  for (const a of own)
    for (const b of others) {
      const distance = phraseDistance(a.vectors, b.vectors);
      if (distance < (otherDistance ?? Infinity)) [otherDistance, nearest] = [distance, b.text];
    }
  return { text, ownDistance, otherDistance, nearest, apart: judge(ownDistance, otherDistance) };
}

function judge(own: number | null, other: number | null): Apartness {
  if (own === null) return 'once';
  const gap = (other ?? Infinity) - own;
  if (gap <= 0) return 'mixed-up';
  return gap < DECISION_LIMITS.aloneGap ? 'close' : 'well';
}

function gapOf({ ownDistance, otherDistance }: ToldApart): number {
  return (otherDistance ?? Infinity) - (ownDistance ?? 0);
}
