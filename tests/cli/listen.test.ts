/**
 * `npm run listen` on files, with the real listeners: flite's recordings (voice in the file's
 * name) in WAV files as others write them, and files that are none. The layout of the files
 * is that of RIFF/WAVE (Multimedia Programming Interface and Data Specifications 1.0, 1991;
 * the extensible format Microsoft's of 2001), from memory.
 */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { run } from '../../src/cli/listen';
import { fault, faultToOperatorText } from '../../src/domain';
import type { ErrorCode, ErrorParams } from '../../src/domain';
import { loadFixture } from '../voice/real-listener';

const PHRASES = ['depth one six', 'depth two zero', 'depth two four', 'screw one four'].map(
  (words) => `theatre wall ${words}`,
);

interface Shape {
  readonly rateHz: number;
  readonly channels: number;
  readonly bits?: number;
  /** 1 is PCM. */
  readonly tag?: number;
}

/** Samples at 16 kHz as a WAV file; between two samples of the wanted rate the sound goes straight. */
function encode(sound: Float32Array, { rateHz, channels, bits = 16, tag = 1 }: Shape): Buffer {
  const frames = Math.floor((sound.length * rateHz) / 16_000);
  const bytes = bits / 8;
  const data = Buffer.alloc(frames * channels * bytes);
  for (let frame = 0; frame < frames; frame += 1) {
    const at = (frame * 16_000) / rateHz;
    const [a = 0, b = 0] = [sound[Math.floor(at)], sound[Math.ceil(at)]];
    const value = Math.round((a + (b - a) * (at % 1)) * 32_000);
    for (let channel = 0; channel < channels; channel += 1)
      data.writeInt16LE(value, (frame * channels + channel + 1) * bytes - 2);
  }
  const format = Buffer.alloc(tag === 1 ? 16 : 40);
  format.writeUInt16LE(tag, 0);
  format.writeUInt16LE(channels, 2);
  format.writeUInt32LE(rateHz, 4);
  format.writeUInt32LE(rateHz * channels * bytes, 8);
  format.writeUInt16LE(channels * bytes, 12);
  format.writeUInt16LE(bits, 14);
  // The extensible format names PCM further on.
  if (tag !== 1) format.writeUInt16LE(1, 24);
  const note = Buffer.from('odd');
  const body = [chunk('note', note), chunk('fmt ', format), chunk('data', data)];
  return chunk('RIFF', Buffer.concat([Buffer.from('WAVE'), ...body]));
}

/** A chunk's length leaves out the byte that makes it even. */
function chunk(id: string, content: Buffer): Buffer {
  const head = Buffer.alloc(8);
  head.write(id, 0, 'latin1');
  head.writeUInt32LE(content.length, 4);
  return Buffer.concat([head, content, Buffer.alloc(content.length % 2)]);
}

let folder = '';
const printed: string[] = [];
const complained: string[] = [];

beforeEach(() => {
  folder = mkdtempSync(path.join(tmpdir(), 'listen-'));
  vi.spyOn(console, 'log').mockImplementation((line: string) => printed.push(line));
  vi.spyOn(console, 'error').mockImplementation((line: string) => complained.push(line));
});
afterEach(() => {
  vi.restoreAllMocks();
  printed.length = complained.length = 0;
  rmSync(folder, { recursive: true });
});

function keep(name: string, content: Buffer | string): string {
  const file = path.join(folder, name);
  mkdirSync(path.dirname(file), { recursive: true });
  writeFileSync(file, content);
  return file;
}

const wav = (name: string, shape: Partial<Shape> = {}): Buffer =>
  encode(loadFixture(name), { rateHz: 16_000, channels: 1, ...shape });

const linesPrinted = (): Record<string, unknown>[] =>
  printed.map((line) => JSON.parse(line) as Record<string, unknown>);

const told = (code: ErrorCode, params: ErrorParams): string => {
  const { happened, next } = faultToOperatorText(fault(code, params));
  return `${happened}. ${next}`;
};

const CHANCE = { asymmetricMatch: (x: unknown) => typeof x === 'number' && x >= 0 && x <= 1 };

describe('npm run listen', () => {
  it('[VOI102] gives each recording one line in its turn: what was said, each listener’s word, the time; one that can’t be read too', async () => {
    const phrases = keep('phrases.txt', `${PHRASES.join('\n')}\n\n`);
    const files = [
      keep('one-six.wav', wav('awb-depth-one-six')),
      path.join(folder, 'missing.wav'),
      keep('letter.wav', 'Dear theatre,'),
      keep('cut.wav', wav('awb-depth-one-six').subarray(0, 30)),
      keep('two-four.wav', wav('slt-depth-two-four')),
      keep('silence.wav', encode(new Float32Array(8_000), { rateHz: 16_000, channels: 1 })),
    ];
    expect(await run(['--phrases', phrases, ...files])).toBe(1);
    const [oneSix, missing, letter, cut, twoFour, silence] = linesPrinted();
    expect(printed).toHaveLength(files.length);
    expect(linesPrinted().map(({ file }) => file)).toEqual(files);
    const scores = { grammar: CHANCE, embedding: CHANCE, workMs: expect.any(Number) as number };
    expect(oneSix).toMatchObject({ phrase: 'theatre wall depth one six', ...scores });
    expect(twoFour).toMatchObject({ phrase: 'theatre wall depth two four', ...scores });
    expect(oneSix).not.toHaveProperty('error');
    const none = { phrase: null, candidates: [], grammar: null, embedding: null, text: null };
    expect(missing).toMatchObject({ ...none, error: 'file-unreadable' });
    expect(letter).toMatchObject({ ...none, error: 'recording-unusable' });
    expect(cut).toMatchObject({ ...none, error: 'recording-unusable' });
    expect(silence).toMatchObject(none);
    expect(silence).not.toHaveProperty('error');
    expect(complained).toEqual([
      told('file-unreadable', { file: files[1] ?? '' }),
      told('recording-unusable', { file: files[2] ?? '' }),
      told('recording-unusable', { file: files[3] ?? '' }),
    ]);
  });

  it('[VOI102] the text listener’s own word is among them where it is asked, and only there', async () => {
    const file = keep('two-four.wav', wav('slt-depth-two-four'));
    // Nothing but one sound tells these two apart: the network by itself is not sure enough.
    const near = keep('near.txt', 'theatre wall depth two four\ntheatre wall depth to four\n');
    expect(await run(['--phrases', near, file])).toBe(0);
    expect(linesPrinted()[0]).toMatchObject({ text: CHANCE });
    const alone = keep('alone.txt', 'theatre wall depth two four');
    for (const listener of ['grammar', 'embedding'])
      expect(await run(['--phrases', alone, '--listener', listener, file])).toBe(0);
    expect(linesPrinted()[1]).toMatchObject({ grammar: CHANCE, embedding: null, text: null });
    expect(linesPrinted()[2]).toMatchObject({ grammar: null, embedding: CHANCE, text: null });
  });

  it('[VOI103] takes recordings of any rate and number of channels, and no other kinds of samples', async () => {
    const phrases = keep('phrases.txt', PHRASES.join('\n'));
    const said = 'kal16-screw-one-four';
    const files = [
      keep('telephone.wav', wav(said, { rateHz: 8_000 })),
      keep('disc.wav', wav(said, { rateHz: 44_100, channels: 2 })),
      keep('extensible.wav', wav(said, { rateHz: 48_000, tag: 0xfffe })),
      keep('wide.wav', wav(said, { bits: 24 })),
      keep('floating.wav', wav(said, { bits: 32, tag: 3 })),
    ];
    expect(await run(['--phrases', phrases, ...files])).toBe(1);
    expect(linesPrinted().map(({ phrase }) => phrase)).toEqual([
      ...Array.from({ length: 3 }, () => 'theatre wall screw one four'),
      null,
      null,
    ]);
    expect(linesPrinted().map(({ error }) => error)).toEqual([
      undefined, undefined, undefined, 'recording-unusable', 'recording-unusable',
    ]); // prettier-ignore
  });

  it('[VOI104] listens to nothing where the phrases, the card or the call can’t be used, and says why', async () => {
    const recording = keep('two-four.wav', wav('slt-depth-two-four'));
    const phrases = keep('phrases.txt', PHRASES.join('\n'));
    const empty = keep('empty.txt', ' \n\n');
    const missing = path.join(folder, 'missing');
    const bareCard = path.dirname(keep('bare/readme.txt', 'no folder here'));
    const letter = keep('card/depth_two_four/letter.wav', 'Dear theatre,');
    const calls: readonly (readonly [readonly string[], string])[] = [
      [['--phrases', missing, recording], told('file-unreadable', { file: missing })],
      [['--phrases', empty, recording], told('phrases-missing', { file: empty })],
      [
        ['--phrases', phrases, '--card', missing, recording],
        told('file-unreadable', { file: missing }),
      ],
      [
        ['--phrases', phrases, '--card', bareCard, recording],
        told('card-recordings-missing', { folder: bareCard }),
      ],
      [
        ['--phrases', phrases, '--card', path.join(folder, 'card'), recording],
        told('recording-unusable', { file: letter }),
      ],
    ];
    for (const [args, text] of calls) {
      expect(await run(args)).toBe(2);
      expect(complained.splice(0)).toEqual([text]);
    }
    const wrong: readonly (readonly [readonly string[], string])[] = [
      [[recording], '--phrases'],
      [['--phrases', phrases], 'no recording'],
      [['--phrases', phrases, '--listener', 'third', recording], '“third”'],
      [['--phrases', phrases, '--lisener', 'both', recording], '--lisener'],
    ];
    for (const [args, part] of wrong) {
      expect(await run(args)).toBe(2);
      const [text = ''] = complained.splice(0);
      expect(text).toContain(part);
      expect(text).toContain('both|grammar|embedding');
    }
    expect(printed).toEqual([]);
  });

  it('[VOI105] a word that nobody can pronounce is named, and the other phrases are heard', async () => {
    const phrases = keep('phrases.txt', `${PHRASES.join('\n')}\ntheatre wall zzyzx\n`);
    const recording = keep('two-four.wav', wav('slt-depth-two-four'));
    expect(await run(['--phrases', phrases, recording])).toBe(0);
    expect(complained).toEqual([expect.stringContaining('zzyzx')]);
    expect(linesPrinted()[0]).toMatchObject({ phrase: 'theatre wall depth two four' });
  });
});
