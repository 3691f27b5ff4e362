import { describe, expect, it } from 'vitest';
import {
  cardToText,
  coverText,
  pcmToSound,
  readCard,
  readCardFile,
  soundToPcm,
} from '../../src/voice';
import type { VoiceCard } from '../../src/voice';

const pcm = (seed: number): Int16Array =>
  Int16Array.from({ length: 3_200 }, (_, at) => Math.round(12_000 * Math.sin((at + seed) / 9)));

const CARD: VoiceCard = {
  format: 1,
  id: 'card-0123456789',
  label: 'surgeon A',
  language: 'fr-FR',
  version: 3,
  madeAt: 1_700_000_000_000,
  addressPhrase: 'mur du bloc',
  takes: [
    { text: 'mur du bloc étape terminée', pcm: pcm(1) },
    { text: 'deux', pcm: pcm(2) },
  ],
};

const codeOf = async (text: string): Promise<string> => {
  const read = await readCardFile(text);
  return read.ok ? 'ok' : read.error.code;
};

/** The file of the card with one thing changed, and a sum that agrees where asked for. */
async function changed(change: (file: Record<string, unknown>) => void): Promise<string> {
  const file = JSON.parse(await cardToText(CARD)) as Record<string, unknown>;
  const { sum: before, ...body } = file;
  expect(before).toHaveLength(64);
  change(body);
  // RFC 6234: the sum as any other program would reckon it.
  const bytes = new TextEncoder().encode(JSON.stringify(body));
  const sum = Buffer.from(await crypto.subtle.digest('SHA-256', bytes)).toString('hex');
  return JSON.stringify({ ...body, sum });
}

describe('a voice card', () => {
  it('[CARD1] comes back from its file as it was, sample by sample', async () => {
    expect(await readCardFile(await cardToText(CARD))).toEqual({ ok: true, value: CARD });
  });

  it('[CARD1] keeps the largest and smallest samples', () => {
    expect([...soundToPcm(Float32Array.of(-2, -1, 0, 1, 2))]).toEqual([
      -32_767, -32_767, 0, 32_767, 32_767,
    ]);
    expect(pcmToSound(Int16Array.of(-32_768, 0))).toEqual(Float32Array.of(-1, 0));
  });

  it('[CARD2] is refused where its file was changed, cut, or is something else', async () => {
    const text = await cardToText(CARD);
    expect(await codeOf(text.replace('surgeon A', 'surgeon B'))).toBe('voice-card-altered');
    expect(await codeOf(text.slice(0, -200))).toBe('voice-card-unreadable');
    expect(await codeOf('')).toBe('voice-card-unreadable');
    expect(await codeOf('null')).toBe('voice-card-unreadable');
    expect(await codeOf('{"format":1,"entries":[]}')).toBe('voice-card-unreadable');
  });

  it.each<[string, (file: Record<string, unknown>) => void]>([
    ['no label', (file) => (file['label'] = ' ')],
    ['a label that is too long', (file) => (file['label'] = 'x'.repeat(25))],
    ['version 0', (file) => (file['version'] = 0)],
    ['no recordings', (file) => (file['takes'] = [])],
    ['recordings that are no list', (file) => (file['takes'] = 'two')],
    ['sound that is no base64', (file) => (file['takes'] = [{ text: 'deux', sound: '%%%' }])],
    ['half a sample', (file) => (file['takes'] = [{ text: 'deux', sound: btoa('abc') }])],
    [
      'a recording of one sample',
      (file) => (file['takes'] = [{ text: 'deux', sound: btoa('ab') }]),
    ],
    ['a text with syntax', (file) => (file['addressPhrase'] = 'a | b')],
    ['an id that is a path', (file) => (file['id'] = '../../cases')],
  ])('[CARD2] is refused with %s, though the sum agrees', async (_, change) => {
    expect(await codeOf(await changed(change))).toBe('voice-card-unreadable');
  });

  it('[CARD3] of a newer format is told from a damaged one', async () => {
    expect(await codeOf(await changed((file) => (file['format'] = 2)))).toBe('voice-card-too-new');
    expect(readCard({ ...CARD, format: 7 })).toMatchObject({
      ok: false,
      error: { code: 'voice-card-too-new' },
    });
  });

  it('[CARD4] covers a phrase by the fewest of its recordings, or not at all', () => {
    const recorded = new Set(['theatre wall', 'theatre wall depth', 'depth', 'two', 'four']);
    expect(coverText('theatre wall depth two four', recorded)).toEqual([
      'theatre wall depth',
      'two',
      'four',
    ]);
    expect(coverText('theatre wall post two', recorded)).toEqual([]);
    expect(coverText('theatre wall two depth', recorded)).toEqual(['theatre wall', 'two', 'depth']);
    expect(coverText('', recorded)).toEqual([]);
  });
});
