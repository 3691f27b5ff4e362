/**
 * What a listener costs: time from the end of speech to the decision, share of the
 * sound's length that the work takes, and memory over an hour of sound that is fed as fast
 * as it goes. Nothing is remembered from earlier runs here. Times are given twice: by the
 * clock, which waits for whatever else this machine does, and by the processor time that
 * the work took. One listener a process: what it reads of WebAssembly's memory is only
 * what is loaded after it began to watch.
 */
import { loadListener } from '../../../src/cli/load-listeners';
import { FIGURE_VOICES } from '../../../src/cli/spoken-voices';
import type { HeardPhrase } from '../../../src/domain';
import { canGoOn, DEFAULT_ADDRESS_PHRASE, Hearing, learnAll } from '../../../src/voice';
import type { Listener } from '../../../src/voice';
import { collectGarbage, watchWasmMemory } from '../../support/wasm-memory';
import { hiss, join } from '../../voice/real-listener';
import { spread } from '../spread';
import { CLEAN, place } from './conditions';
import { makeDeskCard } from './desk-card';
import { say } from './memory';
import { findBusiest, shuffle, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';

/**
 * What is measured. The network can't pronounce without the grammar's dictionary: both are
 * loaded for it, only the network is asked.
 */
export const COST_SUBJECTS = ['grammar', 'embedding', 'both', 'both, a card in use'] as const;
export type CostSubject = (typeof COST_SUBJECTS)[number];

/** After which minutes is the memory read? */
const READ_AT = [10, 30, 60];

export async function measureCost(
  subject: CostSubject,
  { timed, minutes }: { readonly timed: number; readonly minutes: number },
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const { legal, procedure } = findBusiest();
  const sounds = speakAll(shuffle(legal, 3).slice(0, timed));
  const hasCard = subject === 'both, a card in use';
  const cards = hasCard ? [makeDeskCard(FIGURE_VOICES[0], procedure).card] : [];
  const memory = watchWasmMemory();
  const listener = await loadListener(hasCard ? 'both' : subject, cards);
  await listener.setVocabulary(vocabularyOf(legal));
  await learnAll(listener);
  const times = await timeAll(listener, legal, sounds);
  const held = await holdLong(listener, legal, { sounds, talk, minutes }, memory.bytes, tell);
  await listener.close();
  memory.stop();
  return { legal: legal.length, sounds: sounds.length, ...times, memory: held };
}

function speakAll(phrases: SpokenMoment['legal']): readonly Float32Array[] {
  return phrases.map(({ words }, index) => {
    const voice = FIGURE_VOICES[index % FIGURE_VOICES.length] ?? FIGURE_VOICES[0];
    return place(say(voice, `${DEFAULT_ADDRESS_PHRASE} ${words}`), CLEAN, index, []);
  });
}

async function timeAll(
  listener: Listener,
  legal: SpokenMoment['legal'],
  sounds: readonly Float32Array[],
): Promise<object> {
  const byClock: HeardPhrase[] = [];
  const byProcessor: HeardPhrase[] = [];
  const work: number[] = [];
  let soundMs = 0;
  let processorMs = 0;
  const timed = { ...passOn(listener), recognise: (pcm: Float32Array) => onProcessor(pcm) };
  for (const sound of sounds) {
    byClock.push(...(await hearOne(listener, legal, sound)));
    const before = process.cpuUsage();
    byProcessor.push(...(await hearOne(timed, legal, sound)));
    processorMs += sinceMs(before);
    soundMs += sound.length / 16;
  }
  async function onProcessor(pcm: Float32Array): Promise<HeardPhrase> {
    const before = process.cpuUsage();
    const heard = await listener.recognise(pcm);
    work.push(sinceMs(before));
    return { ...heard, decisionMs: sinceMs(before) };
  }
  const settled = (heard: readonly HeardPhrase[]): readonly HeardPhrase[] =>
    heard.filter(({ words }) => words !== null && !canGoOn(words, vocabularyOf(legal)));
  return {
    endOfSpeechToDecisionMs: {
      byClock: spreadOf(byClock),
      byProcessorTime: spreadOf(byProcessor),
      // What can go on, or was not made out, waits 600 ms by rule.
      ofWhatCannotGoOn: {
        phrases: settled(byClock).length,
        byClock: spreadOf(settled(byClock)),
        byProcessorTime: spreadOf(settled(byProcessor)),
      },
    },
    processorMsOfOneRecognition: spread(work),
    realTimeFactor: Number((processorMs / soundMs).toFixed(3)),
  };
}

function spreadOf(heard: readonly HeardPhrase[]): object {
  return spread(heard.map(({ decisionMs }) => decisionMs));
}

/** What came of one sound, also what was not made out. */
async function hearOne(
  listener: Listener,
  legal: SpokenMoment['legal'],
  sound: Float32Array,
): Promise<readonly HeardPhrase[]> {
  const heard: HeardPhrase[] = [];
  const hearing = new Hearing(passOn(listener), {
    onPhrase: (phrase) => heard.push(phrase),
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(vocabularyOf(legal));
  await hearing.push(sound);
  return heard;
}

/** The listener with its vocabulary left as it is: setting it is not the work that is timed. */
function passOn(listener: Listener): Listener {
  return {
    name: listener.name,
    setVocabulary: async () => [],
    recognise: (pcm) => listener.recognise(pcm),
    close: async () => undefined,
  };
}

interface LongSound {
  readonly sounds: readonly Float32Array[];
  readonly talk: readonly Float32Array[];
  readonly minutes: number;
}

/** Two commands and some seconds of talk in each minute, a quiet room otherwise. */
async function holdLong(
  listener: Listener,
  legal: SpokenMoment['legal'],
  { sounds, talk, minutes }: LongSound,
  wasmBytes: () => number,
  tell: (done: number) => void,
): Promise<readonly object[]> {
  const hearing = new Hearing(passOn(listener), {
    onPhrase: () => undefined,
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(vocabularyOf(legal));
  const readings: object[] = [];
  const read = (minute: number): void => {
    collectGarbage();
    const { heapUsed, rss } = process.memoryUsage();
    readings.push({ minute, heapMb: toMb(heapUsed), wasmMb: toMb(wasmBytes()), rssMb: toMb(rss) });
  };
  read(0);
  for (let minute = 1; minute <= minutes; minute += 1) {
    const one = sounds[(2 * minute) % sounds.length] ?? new Float32Array(0);
    const two = sounds[(2 * minute + 1) % sounds.length] ?? new Float32Array(0);
    const talking = talk[minute % talk.length] ?? new Float32Array(0);
    const loud = join(one, hiss(10_000), talking, hiss(10_000), two);
    const restMs = Math.max(0, 60_000 - Math.ceil(loud.length / 16));
    for (let from = 0; from < loud.length; from += 16_000)
      await hearing.push(loud.slice(from, from + 16_000));
    await hearing.push(hiss(restMs));
    if (READ_AT.includes(minute)) {
      read(minute);
      tell(minute);
    }
  }
  return readings;
}

function sinceMs(before: NodeJS.CpuUsage): number {
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

function toMb(bytes: number): number {
  return Number((bytes / 2 ** 20).toFixed(1));
}
