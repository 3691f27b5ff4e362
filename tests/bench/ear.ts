/**
 * `npm run bench -- ear`: what the grammar's ear costs and how right it is, in Node, one
 * thread. Times in milliseconds of this machine as busy as it is; processor shares in
 * percent of one core. Clean and noisy speech are the committed recordings (flite), so
 * their figures are an upper bound for people; docs/voice.md has the human ones.
 */
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { HeardPhrase, Vocabulary } from '../../src/domain';
import { GrammarListener, Hearing, readWav, REHEARSAL_CLIPS } from '../../src/voice';
import { hiss, join, loadFixture, MODEL_BASE, vocabularyOf } from '../voice/real-listener';
import { hasHumanTalk, loadHumanTalk } from './human-talk';
import { addPinkNoise } from './pink-noise';
import { spread } from './spread';
import { measureInBrowser } from './voice-in-browser';

const MINUTE_MS = 60_000;
const CLIPS = fileURLToPath(new URL('../../src/voice/rehearsal-clips/', import.meta.url));

/** Legal phrases beside those that are said: likely confusions. */
const OTHERS = [
  'depth one six', 'depth two zero', 'depth three two', 'wedge eight', 'glenosphere three six',
  'glenosphere four four', 'direction ten', "direction nine o'clock", 'say again', 'mute voice',
]; // prettier-ignore

interface Spoken {
  readonly words: string;
  readonly isTalk: boolean;
  readonly sound: Float32Array;
}

/** Runs all of it; some six minutes, most of them in real time in a browser. */
export async function benchEar(): Promise<object> {
  const loadStart = performance.now();
  const listener = await GrammarListener.create({ modelBase: MODEL_BASE }, () => performance.now());
  const loadMs = performance.now() - loadStart;
  const said = REHEARSAL_CLIPS.map(({ words, file, isTalk }): Spoken => ({
    words,
    isTalk,
    sound: readWav(readFileSync(CLIPS + file)),
  }));
  const commands = said.filter(({ isTalk }) => !isTalk).map(({ words }) => words);
  const vocabulary = vocabularyOf([...new Set([...commands, ...OTHERS])]);

  const clean = await hearThrough(listener, vocabulary, said, null);
  const silence = await measureShare(listener, vocabulary, hiss(MINUTE_MS));
  const talk = loadTalk();
  const talking = await measureShare(listener, vocabulary, talk.sound);
  const result = {
    loadMs: Math.round(loadMs),
    phrasesLegal: vocabulary.phrases.length,
    endOfSpeechToDecisionMs: spread(clean.decisionsMs),
    recogniseMs: spread(clean.workMs),
    realTimeFactor: Number(clean.realTimeFactor.toFixed(3)),
    silentMinute: silence,
    talkingMinute: { source: talk.source, ...talking },
    right: {
      clean: clean.counts,
      pinkNoise20dB: (await hearThrough(listener, vocabulary, said, 20)).counts,
      pinkNoise10dB: (await hearThrough(listener, vocabulary, said, 10)).counts,
    },
  };
  await listener.close();
  return { ...result, inBrowser: await measureInBrowser() };
}

async function hearThrough(
  listener: GrammarListener,
  vocabulary: Vocabulary,
  said: readonly Spoken[],
  noiseDb: number | null,
) {
  const counts = { said: 0, right: 0, missed: 0, wrong: 0, talk: 0, falseActivations: 0 };
  const [decisionsMs, workMs]: [number[], number[]] = [[], []];
  let audioMs = 0;
  const startMs = performance.now();
  for (const { words, isTalk, sound } of said) {
    const around = join(hiss(2000), sound, hiss(1000));
    const { heard, work } = await hear(
      listener,
      vocabulary,
      noiseDb === null ? around : addPinkNoise(around, sound, noiseDb),
    );
    audioMs += around.length / 16;
    workMs.push(...work);
    const taken = heard.find((phrase) => phrase.words !== null);
    if (isTalk) counts.talk += 1;
    else counts.said += 1;
    if (taken === undefined) counts.missed += isTalk ? 0 : 1;
    else if (isTalk) counts.falseActivations += 1;
    else if (taken.words === words) counts.right += 1;
    else counts.wrong += 1;
    if (taken) decisionsMs.push(taken.decisionMs);
  }
  return { counts, decisionsMs, workMs, realTimeFactor: (performance.now() - startMs) / audioMs };
}

async function hear(listener: GrammarListener, vocabulary: Vocabulary, sound: Float32Array) {
  const heard: HeardPhrase[] = [];
  const work: number[] = [];
  const timed = {
    name: listener.name,
    setVocabulary: (next: Vocabulary) => listener.setVocabulary(next),
    close: () => listener.close(),
    recognise: async (pcm: Float32Array) => {
      const phrase = await listener.recognise(pcm);
      work.push(phrase.decisionMs);
      return phrase;
    },
  };
  const events = {
    onPhrase: (phrase: HeardPhrase) => heard.push(phrase),
    onHearing: () => undefined,
    onLevel: () => undefined,
  };
  const hearing = new Hearing(timed, events);
  await hearing.setVocabulary(vocabulary);
  await hearing.push(sound);
  return { heard, work };
}

/** Share of one core, and what was taken for a command. */
async function measureShare(
  listener: GrammarListener,
  vocabulary: Vocabulary,
  sound: Float32Array,
) {
  const before = process.cpuUsage();
  const { heard, work } = await hear(listener, vocabulary, sound);
  const { user, system } = process.cpuUsage(before);
  return {
    percentOfOneCore: Number(((user + system) / 10 / (sound.length / 16)).toFixed(2)),
    recognitions: work.length,
    falseActivations: heard.filter(({ words }) => words !== null).length,
  };
}

/** A minute of people talking who do not mean the wall. */
function loadTalk(): { source: string; sound: Float32Array } {
  return hasHumanTalk()
    ? repeatToMinute('human, read sentences', loadHumanTalk(MINUTE_MS))
    : repeatToMinute('flite, one sentence over and over', [loadFixture('awb-talk')]);
}

function repeatToMinute(source: string, pieces: readonly Float32Array[]) {
  const all: Float32Array[] = [];
  while (lengthMs(all) < MINUTE_MS) all.push(...pieces);
  return { source, sound: join(...all).slice(0, MINUTE_MS * 16) };
}

function lengthMs(pieces: readonly Float32Array[]): number {
  return pieces.reduce((sum, { length }) => sum + length / 16, 0);
}
