/** The real listener in Node, loaded once a test file, and sound to feed it with. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import type { HeardPhrase, Vocabulary } from '../../src/domain';
import { GrammarListener, Hearing, readWav } from '../../src/voice';
import type { Listener } from '../../src/voice';

const require = createRequire(import.meta.url);

/** The model inside the installed package. */
export const MODEL_BASE = `${path.join(path.dirname(require.resolve('soundswallower')), 'model')}/`;

/** A clock that stands still: what is tested must not depend on how busy the machine is. */
const STOPPED_CLOCK = (): number => 0;

export function loadRealListener(): Promise<GrammarListener> {
  return GrammarListener.create({ modelBase: MODEL_BASE }, STOPPED_CLOCK);
}

/** A vocabulary of these phrases. */
export function vocabularyOf(
  phrases: readonly string[],
  addressPhrase = 'theatre wall',
): Vocabulary {
  return {
    addressPhrase,
    phrases: phrases.map((words) => ({ words, order: { type: 'capture.confirm' } })),
  };
}

/** A vocabulary in which each phrase is a size of its own: two of them contest each other. */
export function sizesOf(phrases: readonly string[], addressPhrase: string): Vocabulary {
  return {
    addressPhrase,
    phrases: phrases.map((words) => ({
      words,
      order: { type: 'capture.offer', capture: 'said' as never, value: words },
    })),
  };
}

/** A committed recording. flite made it (Debian package flite): the voice is in its name. */
export function loadFixture(name: string): Float32Array {
  return readWav(readFileSync(fileURLToPath(new URL(`fixtures/${name}.wav`, import.meta.url))));
}

/** Faint even noise, about -70 dB: digital silence would be a special case. */
export function hiss(ms: number): Float32Array {
  let seed = 7;
  return Float32Array.from({ length: ms * 16 }, () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
    return (seed / 2_147_483_648 - 0.5) * 1e-3;
  });
}

/** Puts pieces of sound one after another. */
export function join(...pieces: readonly Float32Array[]): Float32Array {
  const all = new Float32Array(pieces.reduce((sum, { length }) => sum + length, 0));
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

/** Everything the listener hears in this sound, through voice activity, with a room around it. */
export async function hearAll(
  listener: Listener,
  vocabulary: Vocabulary,
  sound: Float32Array,
): Promise<HeardPhrase[]> {
  const heard: HeardPhrase[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: (phrase) => heard.push(phrase),
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(vocabulary);
  await hearing.push(join(hiss(500), sound, hiss(1000)));
  return heard;
}
