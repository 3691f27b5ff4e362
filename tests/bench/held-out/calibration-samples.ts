/**
 * What the listeners thought of each sound of calibration-sounds.ts, kept as plain data, so
 * that fit and figures can be reckoned again without hearing everything again.
 */
import { appendFileSync, existsSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
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
 * Hears all of one split. With a file, what an earlier run has kept there is read instead;
 * what is heard is kept in it. Sounds in which nothing was found give no sample.
 */
export async function gatherSamples(
  split: Split,
  babble: readonly Float32Array[],
  file: string | null,
  tell: (line: string) => void,
): Promise<readonly Sample[]> {
  if (file !== null && existsSync(file)) return readSamples(file);
  const samples: Sample[] = [];
  // Beside its name until it is whole: a run that is cut off leaves nothing that passes for all.
  const part = file === null ? null : `${file}.part`;
  if (part !== null) writeFileSync(part, '');
  const panel = await Panel.load();
  let known: Partial<Pick<Spoken, 'vocabulary' | 'card'>> = {};
  let unknownWords: readonly string[] = [];
  let done = 0;
  for (const spoken of speakForCalibration(split, babble)) {
    done += 1;
    if (spoken.card && known.card?.label !== spoken.card.label) await panel.setCard(spoken.card);
    if (!isSame(known.vocabulary, spoken.vocabulary))
      unknownWords = await panel.offerVocabulary(spoken.vocabulary);
    known = spoken;
    if (unknownWords.some((word) => spoken.said.split(' ').includes(word))) continue;
    const { last } = await panel.hear(spoken.sound());
    if (!last) continue;
    const sample = keep(spoken, last);
    samples.push(sample);
    if (part !== null) appendFileSync(part, `${JSON.stringify(sample)}\n`);
    if (samples.length % 20 === 0) tell(`${split}: ${done} heard, the last of “${spoken.group}”`);
  }
  await panel.close();
  if (file !== null && part !== null) renameSync(part, file);
  return samples;
}

/** The opinions as the listeners gave them. */
export function toOpinions({ grammar, network, ranked, secondVoice }: Sample): Opinions {
  return {
    grammar: { ...grammar, margin: () => grammar.margin ?? -Infinity },
    network,
    ranked,
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
  const { grammar, network, ranked } = opinions;
  const margin = grammar.words === null ? null : grammar.margin();
  return {
    group, said, voice, room, vocabulary, ranked,
    // JSON has no infinity; a phrase that can't be it is no candidate either.
    network: network.filter(({ distance }) => distance < Infinity),
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

function readSamples(file: string): readonly Sample[] {
  const lines = readFileSync(file, 'utf8').split('\n').filter(Boolean);
  return lines.map((line) => JSON.parse(line) as Sample);
}
