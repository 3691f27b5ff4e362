/**
 * A voice card as one file: JSON, each recording in base64 (16-bit little endian at
 * 16 kHz), closed by the SHA-256 of everything before it, so that a file that was cut
 * or changed on its way is told from a whole one. The sum has no key: it finds
 * accidents, not forgers.
 */
import { err, fault } from '../../domain';
import type { Fault, Result } from '../../domain';
import { CARD_FORMAT, readCard } from './voice-card';
import type { VoiceCard } from './voice-card';

/** What tells a card's file from other JSON. */
const KIND = 'cuewall-voice-card';
/** The largest file that is looked at: several times the longest card, in characters. */
const MOST_CHARS = 120_000_000;

/** Writes the file. */
export async function cardToText(card: VoiceCard): Promise<string> {
  const body = {
    kind: KIND,
    ...card,
    takes: card.takes.map(({ text, pcm }) => ({ text, sound: toBase64(pcm) })),
  };
  return `${JSON.stringify({ ...body, sum: await sumOf(body) }, null, 1)}\n`;
}

/** Reads one. Faults: `voice-card-unreadable`, `voice-card-altered`, `voice-card-too-new`. */
export async function readCardFile(text: string): Promise<Result<VoiceCard, Fault>> {
  const unreadable = (detail: string) => err(fault('voice-card-unreadable', { detail }));
  if (text.length > MOST_CHARS) return unreadable(`${text.length} characters`);
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (cause) {
    return unreadable(String(cause).slice(0, 160));
  }
  if (!isObject(value) || value['kind'] !== KIND) return unreadable('not a voice card');
  if (typeof value['format'] === 'number' && value['format'] > CARD_FORMAT) return readCard(value);
  const { sum, ...body } = value;
  if (sum !== (await sumOf(body))) return err(fault('voice-card-altered', { detail: 'SHA-256' }));
  const { takes } = body;
  if (!Array.isArray(takes)) return unreadable('takes: expected an array');
  try {
    return readCard({ ...body, takes: takes.map(toTake) });
  } catch (cause) {
    return unreadable(String(cause).slice(0, 160));
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

/** Throws where the sound is not base64 of whole samples. */
function toTake(take: unknown): unknown {
  if (!isObject(take) || typeof take['sound'] !== 'string') throw new Error('a take has no sound');
  const bytes = Uint8Array.from(atob(take['sound']), (letter) => letter.charCodeAt(0));
  if (bytes.length % 2 !== 0) throw new Error('half a sample');
  const view = new DataView(bytes.buffer);
  const pcm = Int16Array.from({ length: bytes.length / 2 }, (_, at) => view.getInt16(2 * at, true));
  return { text: take['text'], pcm };
}

function toBase64(pcm: Int16Array): string {
  const view = new DataView(new ArrayBuffer(2 * pcm.length));
  pcm.forEach((sample, at) => {
    view.setInt16(2 * at, sample, true);
  });
  // In pieces: a call takes only so many arguments.
  const bytes = new Uint8Array(view.buffer);
  let text = '';
  for (let from = 0; from < bytes.length; from += 8192)
    text += String.fromCharCode(...bytes.subarray(from, from + 8192));
  return btoa(text);
}

async function sumOf(body: object): Promise<string> {
  const bytes = new TextEncoder().encode(JSON.stringify(body));
  const sum = await globalThis.crypto.subtle.digest('SHA-256', bytes);
  return [...new Uint8Array(sum)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
}
