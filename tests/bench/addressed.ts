/**
 * `npm run bench -- addressed [--tuning]`: how far the address phrase is where nobody said it
 * (people's read sentences, quiet and in mixed noise, cut as the wall cuts them), and where
 * somebody did: nobody's "theatre wall" was at hand, so the first two words of each sentence
 * stand for it, and as a check those of another sentence. What is nearer than the limit is
 * told where nothing else was made out of it (VOI107). The half of the talk that figures come from,
 * or the tuning half.
 */
import { loadBoth } from '../../src/cli/load-listeners';
import type { AllListeners } from '../../src/voice';
import { DEFAULT_ADDRESS_PHRASE, NETWORK_LIMITS } from '../../src/voice';
import { cutTalk } from './cut-talk';
import { CLEAN, place } from './held-out/conditions';
import type { Condition } from './held-out/conditions';
import { loadTalk } from './held-out/talk-clips';
import { hasHumanTalk, listHumanTalk } from './human-talk';
import { spread } from './spread';

const NOISE: Condition = { name: 'mixed 10 dB', noise: 'mixed', snrDb: 10 };
const SENTENCES = 160;
/** How many words stand for the address phrase? As many as it has. */
const WORDS = 2;
/** A wrong beginning is another sentence's: some places on, so that another person says it. */
const APART = 7;

export async function benchAddressed(options: readonly string[]): Promise<object> {
  if (!hasHumanTalk()) throw new Error('The measuring data "speech" is not here');
  const half = options.includes('--tuning') ? 'tuning' : 'figures';
  const listeners = await loadBoth();
  const babble = loadTalk();
  const sentences = listHumanTalk(half)
    .slice(0, SENTENCES)
    .map(({ text, sound }) => ({ sound: sound(), begins: beginningOf(text) }));
  const inRoom = (room: Condition) =>
    sentences.flatMap(({ sound }, seed) => cutTalk(place(sound, room, seed, babble)));
  const firstPieces = sentences.map(({ sound }) => cutTalk(sound).slice(0, 1));
  const beginning = (apart: number) =>
    firstPieces.map((pieces, index) => ({
      address: sentences[(index + apart) % sentences.length]?.begins ?? '',
      pieces,
    }));
  const talk = (room: Condition) => [{ address: DEFAULT_ADDRESS_PHRASE, pieces: inRoom(room) }];
  const result = {
    half,
    limit: NETWORK_LIMITS.addressDistance,
    talkQuiet: await measure(listeners, talk(CLEAN)),
    talkInNoise: await measure(listeners, talk(NOISE)),
    ownBeginning: await measure(listeners, beginning(0)),
    otherBeginning: await measure(listeners, beginning(APART)),
  };
  await listeners.close();
  return result;
}

interface Asked {
  readonly address: string;
  readonly pieces: readonly Float32Array[];
}

async function measure(listeners: AllListeners, asked: readonly Asked[]): Promise<object> {
  const distances: number[] = [];
  for (const { address, pieces } of asked) {
    const phrases = [{ words: 'confirm', order: { type: 'capture.confirm' } as const }];
    const faults = await listeners.setVocabulary({ addressPhrase: address, phrases });
    // A word that the dictionary lacks can't be listened for.
    if (faults.length > 0) continue;
    for (const piece of pieces) {
      const { addressDistance } = await listeners.network.consider(piece);
      if (addressDistance !== undefined) distances.push(addressDistance);
    }
  }
  const nearer = distances.filter((one) => one <= NETWORK_LIMITS.addressDistance).length;
  return { nearer, least: Math.min(...distances), ...spread(distances) };
}

function beginningOf(text: string): string {
  const words = text.toLowerCase().replace(/[^a-z' ]/g, '');
  return words.split(/\s+/).filter(Boolean).slice(0, WORDS).join(' ');
}
