/**
 * An hour of sound through voice activity and all listeners, as fast as it goes: a quiet
 * room, every three minutes a recorded command (flite, committed for the rehearsal) and
 * every three minutes talk, with a voice card in use and what may be said changing all the
 * time. What may grow is stated here; `npm run bench -- voice --only cost` has the readings.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { loadBoth } from '../../src/cli/load-listeners';
import { ROOT } from '../../src/cli/run-program';
import { Hearing, learnAll, readWav, REHEARSAL_CLIPS, soundToPcm } from '../../src/voice';
import type { CardTake, RehearsalClip } from '../../src/voice';
import { collectGarbage, watchWasmMemory } from '../support/wasm-memory';
import { hiss, join, loadFixture, vocabularyOf } from './real-listener';

const MEBIBYTE = 2 ** 20;
/** An hour of samples as 32-bit floats is 220 MiB: a listener that kept a tenth of them would fail. */
const MOST_HEAP = 20 * MEBIBYTE;
/** WebAssembly's memory has grown to what the longest command needs within the first minutes. */
const MOST_WASM = 4 * MEBIBYTE;
const MINUTES = 60;
const SETTLED_AFTER = 6;
/** A command in the first minute of three, talk in the second, nothing in the third. */
const TURN = 3;
/** After how many minutes may something else be said? Both vocabularies come before it is settled. */
const OTHER_AFTER = 2;
const DIGITS = ['two', 'four', 'eight'];

it('[VOI60] holds no more memory after an hour of sound than after six minutes', async () => {
  const wasm = watchWasmMemory();
  const clips = REHEARSAL_CLIPS.filter(({ isTalk }) => !isTalk).slice(0, 4);
  const commands = clips.map(loadClip);
  const talk = [
    ...REHEARSAL_CLIPS.filter(({ isTalk }) => isTalk).map(loadClip),
    join(loadFixture('awb-talk'), hiss(300), loadFixture('slt-unaddressed-depth-two-four')),
  ];
  const said = clips.map(({ words }) => words);
  const sizes = DIGITS.flatMap((tens) => DIGITS.map((ones) => `depth ${tens} ${ones}`));
  const listener = await loadBoth();
  await listener.setCards([{ label: 'surgeon A', takes: makeTakes(clips, commands) }]);
  const heard: (string | null)[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: ({ words }) => heard.push(words),
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  const readings: Reading[] = [];
  for (let minute = 1; minute <= MINUTES; minute += 1) {
    const hasSizes = Math.floor((minute - 1) / OTHER_AFTER) % 2 === 1;
    await hearing.setVocabulary(vocabularyOf(hasSizes ? [...said, ...sizes] : said));
    await learnAll(listener);
    const round = Math.floor(minute / TURN);
    const sound = [null, commands[round % commands.length], talk[round % talk.length]][
      minute % TURN
    ];
    if (sound) await hearing.push(sound);
    await hearing.push(hiss(60_000 - Math.ceil((sound?.length ?? 0) / 16)));
    if (minute === SETTLED_AFTER || minute === MINUTES)
      readings.push(await readMemory(wasm.bytes()));
  }
  // The card was in use: whole phrases and, in the last minutes, sizes joined from its parts.
  expect([said[0], sizes[0]].map((words) => listener.network.knows(words ?? ''))).toEqual([
    true,
    true,
  ]);
  await listener.close();
  wasm.stop();
  expect(heard.filter((words) => words !== null).length).toBeGreaterThanOrEqual(15);
  // Talk was listened to as well: each of the twenty stretches came to nothing, and was told.
  expect(heard.filter((words) => words === null).length).toBeGreaterThanOrEqual(20);
  const [before, after] = readings as [Reading, Reading];
  expect(before.wasm).toBeGreaterThan(MEBIBYTE);
  expect(after.wasm - before.wasm).toBeLessThanOrEqual(MOST_WASM);
  expect(after.held - before.held).toBeLessThanOrEqual(MOST_HEAP);
}, 240_000);

function loadClip({ file }: RehearsalClip): Float32Array {
  return readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', file)));
}

/** Two recordings of each text. What a part holds is all the same to memory: pieces of one recording stand for them. */
function makeTakes(
  clips: readonly RehearsalClip[],
  commands: readonly Float32Array[],
): readonly CardTake[] {
  const spoken = loadFixture('slt-depth-two-four');
  const piece = Math.floor(spoken.length / (DIGITS.length + 1));
  const parts = ['theatre wall depth', ...DIGITS].map((text, at) => ({
    text,
    sound: spoken.slice(at * piece, (at + 1) * piece),
  }));
  const whole = clips.map(({ words }, at) => ({
    text: `theatre wall ${words}`,
    sound: commands[at] ?? spoken,
  }));
  return [...whole, ...parts].flatMap(({ text, sound }) => [
    { text, pcm: soundToPcm(sound) },
    { text, pcm: soundToPcm(sound.map((x) => x / 2)) },
  ]);
}

interface Reading {
  readonly held: number;
  readonly wasm: number;
}

async function readMemory(wasm: number): Promise<Reading> {
  // Memory outside the heap is given back only after the first collection has been dealt with.
  collectGarbage();
  await new Promise((resolve) => setTimeout(resolve, 50));
  collectGarbage();
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { held: heapUsed + arrayBuffers, wasm };
}
