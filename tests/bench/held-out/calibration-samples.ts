/**
 * What the listeners thought of each sound of calibration-sounds.ts, kept as plain data, so
 * that fit and figures can be reckoned again without hearing everything again.
 */
import { appendFileSync, existsSync, readFileSync } from 'node:fs';
import type { Vocabulary } from '../../../src/domain';
import type { Opinions, PhraseAtDistance } from '../../../src/voice';
import { speakForCalibration } from './calibration-sounds';
import type { Group, Spoken, Split } from './calibration-sounds';
import { Panel } from './panel';

/** One utterance, and each listener's opinion of it. */
export interface Sample {
  readonly group: Group;
  readonly said: string;
  readonly voice: string;
  readonly room: string;
  readonly vocabulary: Vocabulary;
  readonly network: readonly PhraseAtDistance[];
  readonly ranked: readonly PhraseAtDistance[];
  readonly text: readonly PhraseAtDistance[];
  readonly head: readonly PhraseAtDistance[];
  readonly unsayable: readonly PhraseAtDistance[];
  readonly grammar: {
    readonly words: string | null;
    /** Null where there is no phrase to ask for. */
    readonly margin: number | null;
    readonly unexplainedMs: number;
    readonly speechMs: number;
    readonly isKnown: boolean;
  };
  readonly secondVoice: number;
}

/**
 * Hears all of one split. With a file every sample is kept in it, and what an earlier run
 * has kept there is read: a run that was cut off goes on where it stopped. Sounds in which
 * nothing was found give no sample.
 */
export async function gatherSamples(
  split: Split,
  babble: readonly Float32Array[],
  file: string | null,
  tell: (line: string) => void,
): Promise<readonly Sample[]> {
  const kept = file !== null && existsSync(file) ? readSamples(file) : [];
  const samples = [...kept];
  for await (const sample of hearSamples(split, babble, kept.length)) {
    samples.push(sample);
    if (file !== null) appendFileSync(file, `${JSON.stringify(sample)}\n`);
    if (samples.length % 20 === 0) tell(`${split}: ${samples.length} sounds`);
  }
  return samples.filter((sample) => sample !== null);
}

/** One for each sound, null where nothing was found in it; the first ones are passed over. */
async function* hearSamples(
  split: Split,
  babble: readonly Float32Array[],
  passed: number,
): AsyncGenerator<Sample | null> {
  const panel = await Panel.load(['grammar', 'embedding', 'both']);
  let known: Partial<Pick<Spoken, 'vocabulary' | 'card'>> = {};
  let place = 0;
  for (const spoken of speakForCalibration(split, babble)) {
    place += 1;
    if (place <= passed) continue;
    if (spoken.card && known.card?.label !== spoken.card.label) await panel.setCard(spoken.card);
    if (!isSame(known.vocabulary, spoken.vocabulary)) await panel.setVocabulary(spoken.vocabulary);
    known = spoken;
    const { last } = await panel.hear(spoken.sound());
    yield last && keep(spoken, last);
  }
  await panel.close();
}

/** The opinions as the listeners gave them. */
export function toOpinions({
  grammar,
  network,
  ranked,
  text,
  head,
  unsayable,
  secondVoice,
}: Sample): Opinions {
  return {
    grammar: { ...grammar, margin: () => grammar.margin ?? -Infinity },
    network,
    ranked,
    text,
    head,
    unsayable,
    knows: () => grammar.isKnown,
    secondVoice: () => secondVoice,
  };
}

/** Whether this phrase means what was said. */
export function isSaid(words: string, { said, vocabulary: { phrases } }: Sample): boolean {
  const orderOf = (text: string): string | undefined =>
    JSON.stringify(phrases.find((phrase) => phrase.words === text)?.order);
  const meant = orderOf(said);
  return meant !== undefined && orderOf(words) === meant;
}

function keep({ group, said, voice, room, vocabulary }: Spoken, opinions: Opinions): Sample {
  const { grammar, network, ranked, text, head, unsayable } = opinions;
  const margin = grammar.words === null ? null : grammar.margin();
  return {
    group, said, voice, room, vocabulary, ranked, text, head,
    // JSON has no infinity; a phrase that can't be it is no candidate either.
    network: network.filter(({ distance }) => distance < Infinity),
    unsayable: unsayable.filter(({ distance }) => distance < Infinity),
    grammar: {
      words: grammar.words,
      margin,
      unexplainedMs: Number.isFinite(grammar.unexplainedMs) ? grammar.unexplainedMs : 1e9,
      speechMs: grammar.speechMs,
      isKnown: grammar.words !== null && opinions.knows(grammar.words),
    },
    secondVoice: opinions.secondVoice(),
  }; // prettier-ignore
}

function isSame(a: Vocabulary | undefined, b: Vocabulary): boolean {
  return JSON.stringify(a) === JSON.stringify(b);
}

function readSamples(file: string): readonly (Sample | null)[] {
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean);
  return lines.map((line) => JSON.parse(line) as Sample | null);
}
