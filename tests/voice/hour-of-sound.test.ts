/**
 * An hour of sound through voice activity and both listeners, as fast as it goes: a quiet
 * room, and every three minutes a recorded command (flite, committed for the rehearsal).
 * What may grow is stated here; `npm run bench -- voice --only cost` has the readings.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, it } from 'vitest';
import { loadListener } from '../../src/cli/load-listeners';
import { ROOT } from '../../src/cli/run-program';
import { Hearing, readWav, REHEARSAL_CLIPS } from '../../src/voice';
import { collectGarbage, watchWasmMemory } from '../support/wasm-memory';
import { hiss, vocabularyOf } from './real-listener';

const MEBIBYTE = 2 ** 20;
/** An hour of samples as 32-bit floats is 220 MiB: a listener that kept a tenth of them would fail. */
const MOST_HEAP = 20 * MEBIBYTE;
/** WebAssembly's memory has grown to what the longest command needs within the first minutes. */
const MOST_WASM = 4 * MEBIBYTE;
const MINUTES = 60;
const SETTLED_AFTER = 6;
const COMMAND_EVERY = 3;

it('[VOI60] holds no more memory after an hour of sound than after six minutes', async () => {
  const wasm = watchWasmMemory();
  const commands = REHEARSAL_CLIPS.filter(({ isTalk }) => !isTalk).slice(0, 4);
  const sounds = commands.map(({ file }) =>
    readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', file))),
  );
  const listener = await loadListener('both');
  const heard: (string | null)[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: ({ words }) => heard.push(words),
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(vocabularyOf(commands.map(({ words }) => words)));
  const readings: Reading[] = [];
  for (let minute = 1; minute <= MINUTES; minute += 1) {
    const sound =
      minute % COMMAND_EVERY === 0 ? sounds[(minute / COMMAND_EVERY) % sounds.length] : undefined;
    if (sound) await hearing.push(sound);
    await hearing.push(hiss(60_000 - Math.ceil((sound?.length ?? 0) / 16)));
    if (minute === SETTLED_AFTER || minute === MINUTES)
      readings.push(await readMemory(wasm.bytes()));
  }
  await listener.close();
  wasm.stop();
  expect(heard.filter((words) => words !== null).length).toBeGreaterThanOrEqual(15);
  const [before, after] = readings as [Reading, Reading];
  expect(before.wasm).toBeGreaterThan(MEBIBYTE);
  expect(after.wasm - before.wasm).toBeLessThanOrEqual(MOST_WASM);
  expect(after.held - before.held).toBeLessThanOrEqual(MOST_HEAP);
}, 240_000);

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
