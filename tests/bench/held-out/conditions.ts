/**
 * The rooms in which held-out speech is heard: quiet, each scripted noise, and each
 * recorded one of the measuring data where they are present, at three levels; echo, alone
 * and with scripted noises.
 */
import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { readRecording } from '../../../src/cli/read-recording';
import { addEcho, createRandom, makeNoise, mix } from '../noise-mix';
import type { NoiseName } from '../noise-mix';

export interface Condition {
  /** `clean`, or kind of noise and level. */
  readonly name: string;
  readonly noise: string;
  /** Speech over noise, in dB; null where there is none. */
  readonly snrDb: number | null;
  /** A small hard room throws the speech back. */
  readonly hasEcho?: true;
}

export const CLEAN: Condition = { name: 'clean', noise: 'none', snrDb: null };
const SCRIPTED = ['pink', 'babble', 'suction', 'drill', 'hammer', 'beeps'] as const;
/** What is heard in an echoing room besides: everything at once, and voices alone. */
const BESIDE_ECHO = ['mixed', 'babble'] as const;
const LEVELS_DB = [20, 10, 5] as const;
/** Room before speech, in which voice activity learns the noise, and after it, in which the decision falls. */
const BEFORE = 24_000;
const AFTER = 19_200;
/** How loud is a quiet room, as a share of full scale? Some 55 dB below loud speech; digital silence is no room. */
const ROOM = 1e-3;

const DATA =
  ['../../../../', '../../../../../']
    .map((up) => fileURLToPath(new URL(`${up}shared/data/`, import.meta.url)))
    .find((folder) => existsSync(folder)) ?? '';

/** A folder of the measuring data; null, with a line about it, where it is not here. */
export function findData(name: string): string | null {
  const folder = path.join(DATA, name);
  if (DATA !== '' && existsSync(folder)) return folder;
  console.log(`skipped: the measuring data "${name}" is not here`);
  return null;
}

/** Every condition but the quiet room: noises, echo, and echo with noise. */
export function listConditions(): readonly Condition[] {
  const echoing = BESIDE_ECHO.flatMap(atEachLevel).map((room): Condition => ({
    ...room,
    name: `echo, ${room.name}`,
    hasEcho: true,
  }));
  return [...listNoises(), { ...CLEAN, name: 'echo', hasEcho: true }, ...echoing];
}

/** Scripted noises and recorded ones, without echo. */
export function listNoises(): readonly Condition[] {
  const recorded = [...loadRecorded().keys()].map((file) => `real: ${file}`);
  return [...SCRIPTED, ...recorded].flatMap(atEachLevel);
}

/** The scripted noises at one level. */
export function listScripted(snrDb: number): readonly Condition[] {
  return SCRIPTED.flatMap(atEachLevel).filter((room) => room.snrDb === snrDb);
}

function atEachLevel(noise: string): readonly Condition[] {
  return LEVELS_DB.map((snrDb) => ({ name: `${noise} ${snrDb} dB`, noise, snrDb }));
}

/** Speech in a room. `talk` is what babble is made of. */
export function place(
  speech: Float32Array,
  { noise, snrDb, hasEcho }: Condition,
  seed: number,
  talk: readonly Float32Array[],
): Float32Array {
  const random = createRandom(seed);
  const said = hasEcho ? addEcho(speech, seed) : speech;
  const sound = new Float32Array(BEFORE + said.length + AFTER);
  sound.set(said, BEFORE);
  for (let index = 0; index < sound.length; index += 1)
    sound[index] = (sound[index] ?? 0) + 0.5 * ROOM * random();
  if (snrDb === null) return sound;
  const recorded = loadRecorded().get(noise.replace('real: ', ''));
  return recorded
    ? mix(sound, cutFrom(recorded, sound.length, Math.abs(random())), snrDb)
    : mix(sound, makeNoise(noise as NoiseName, sound.length, seed, talk), snrDb);
}

let recordedNoises: ReadonlyMap<string, Float32Array> | null = null;

function loadRecorded(): ReadonlyMap<string, Float32Array> {
  if (recordedNoises) return recordedNoises;
  const folder = findData('noise');
  const files = folder ? readdirSync(folder).filter((name) => name.endsWith('.wav')) : [];
  recordedNoises = new Map(
    files
      .sort()
      .map((name) => [name.replace('.wav', ''), readRecording(path.join(folder ?? '', name))]),
  );
  return recordedNoises;
}

function cutFrom(noise: Float32Array, length: number, share: number): Float32Array {
  const from = Math.floor(share * noise.length);
  return Float32Array.from({ length }, (_, index) => noise[(from + index) % noise.length] ?? 0);
}
