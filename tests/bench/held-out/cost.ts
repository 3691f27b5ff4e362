/**
 * What both listeners cost: time from the end of speech to the decision, share of the
 * sound's length that the work takes, and memory over an hour of sound that is fed as fast
 * as it goes. Nothing is remembered from earlier runs here. Times are given twice: by the
 * clock, which waits for whatever else this machine does, and by the processor time that
 * the work took.
 */
import { loadListener } from '../../../src/cli/load-listeners';
import { FIGURE_VOICES } from '../../../src/cli/spoken-voices';
import type { HeardPhrase } from '../../../src/domain';
import { DEFAULT_ADDRESS_PHRASE, Hearing } from '../../../src/voice';
import type { Listener } from '../../../src/voice';
import { hiss, join } from '../../voice/real-listener';
import { spread } from '../spread';
import { collectGarbage, watchWasmMemory } from '../../support/wasm-memory';
import { CLEAN, place } from './conditions';
import { say } from './memory';
import { listSpokenMoments, shuffle, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';

const MINUTES = 60;
/** After which minutes is the memory read? */
const READ_AT = [10, 30, 60];

export async function measureCost(
  commands: number,
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const memory = watchWasmMemory();
  const listener = await loadListener('both');
  const moments = listSpokenMoments(1);
  const { legal } = moments.reduce((a, b) => (b.legal.length > a.legal.length ? b : a));
  await listener.setVocabulary(vocabularyOf(legal));
  const sounds = speakAll(shuffle(legal, 3).slice(0, commands));
  const times = await timeAll(listener, legal, sounds);
  const held = await holdAnHour(listener, legal, sounds, talk, memory.bytes, tell);
  await listener.close();
  memory.stop();
  return { legal: legal.length, ...times, memory: held };
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
  const byClock: number[] = [];
  const byProcessor: number[] = [];
  const work: number[] = [];
  let soundMs = 0;
  let processorMs = 0;
  for (const sound of sounds) {
    byClock.push(...(await decisionsOf(listener, legal, sound)));
    const before = process.cpuUsage();
    const timed = { ...passOn(listener), recognise: (pcm: Float32Array) => onProcessor(pcm) };
    byProcessor.push(...(await decisionsOf(timed, legal, sound)));
    processorMs += sinceMs(before);
    soundMs += sound.length / 16;
  }
  async function onProcessor(pcm: Float32Array): Promise<HeardPhrase> {
    const before = process.cpuUsage();
    const heard = await listener.recognise(pcm);
    work.push(sinceMs(before));
    return { ...heard, decisionMs: sinceMs(before) };
  }
  return {
    endOfSpeechToDecisionMs: { byClock: spread(byClock), byProcessorTime: spread(byProcessor) },
    processorMsOfOneRecognition: spread(work),
    realTimeFactor: Number((processorMs / soundMs).toFixed(3)),
  };
}

/** Decision times of one sound, also of what was not made out. */
async function decisionsOf(
  listener: Listener,
  legal: SpokenMoment['legal'],
  sound: Float32Array,
): Promise<readonly number[]> {
  const heard: HeardPhrase[] = [];
  const hearing = new Hearing(passOn(listener), {
    onPhrase: (phrase) => heard.push(phrase),
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(vocabularyOf(legal));
  await hearing.push(sound);
  return heard.map(({ decisionMs }) => decisionMs);
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

/** Two commands and some seconds of talk in each minute, a quiet room otherwise. */
async function holdAnHour(
  listener: Listener,
  legal: SpokenMoment['legal'],
  sounds: readonly Float32Array[],
  talk: readonly Float32Array[],
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
  for (let minute = 1; minute <= MINUTES; minute += 1) {
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
