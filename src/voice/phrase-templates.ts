/**
 * Example utterances of phrases as vectors, and the file that keeps them: the length
 * of a JSON header (32 bits, little endian), the header, then every vector as 96
 * signed bytes. Vectors have length 1 again when read, so no scale is stored.
 */
import { VECTOR_SIZE } from './speech-embedding';
import type { SpeechVectors } from './speech-embedding';

/** One way of saying a phrase. */
export interface PhraseTemplate {
  /** What was said, address phrase included. */
  readonly text: string;
  /** Who or what said it. */
  readonly voice: string;
  readonly vectors: SpeechVectors;
}

const VERSION = 1;

interface Header {
  readonly version: number;
  readonly voices: readonly string[];
  /** Text, index of the voice, number of vectors. */
  readonly templates: readonly (readonly [string, number, number])[];
}

export function writeTemplates(templates: readonly PhraseTemplate[]): Uint8Array {
  const voices = [...new Set(templates.map(({ voice }) => voice))];
  const header: Header = {
    version: VERSION,
    voices,
    templates: templates.map(({ text, voice, vectors }) => [
      text,
      voices.indexOf(voice),
      vectors.count,
    ]),
  };
  const head = new TextEncoder().encode(JSON.stringify(header));
  const parts = templates.map(({ vectors }) => toBytes(vectors));
  const out = new Uint8Array(4 + head.length + parts.reduce((sum, { length }) => sum + length, 0));
  new DataView(out.buffer).setUint32(0, head.length, true);
  out.set(head, 4);
  let at = 4 + head.length;
  for (const part of parts) {
    out.set(new Uint8Array(part.buffer), at);
    at += part.length;
  }
  return out;
}

/** Throws where the file is of another version or cut short. */
export function readTemplates(bytes: Uint8Array): readonly PhraseTemplate[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const headLength = bytes.length < 4 ? 0 : view.getUint32(0, true);
  if (headLength === 0 || 4 + headLength > bytes.length) throw new Error('No templates');
  const text = new TextDecoder().decode(bytes.subarray(4, 4 + headLength));
  const header = JSON.parse(text) as Header;
  if (header.version !== VERSION) throw new Error(`Templates of version ${header.version}`);
  let at = 4 + headLength;
  return header.templates.map(([said, voice, count]) => {
    const length = count * VECTOR_SIZE;
    if (at + length > bytes.length) throw new Error('Templates cut short');
    const data = new Float32Array(length);
    for (let index = 0; index < length; index += 1) data[index] = view.getInt8(at + index);
    at += length;
    return { text: said, voice: header.voices[voice] ?? '', vectors: toUnit(data, count) };
  });
}

function toBytes({ data }: SpeechVectors): Int8Array {
  const out = new Int8Array(data.length);
  for (let from = 0; from < data.length; from += VECTOR_SIZE) {
    const vector = data.subarray(from, from + VECTOR_SIZE);
    const largest = vector.reduce((most, x) => Math.max(most, Math.abs(x)), 1e-9);
    vector.forEach((x, index) => (out[from + index] = Math.round((x / largest) * 127)));
  }
  return out;
}

function toUnit(data: Float32Array, count: number): SpeechVectors {
  for (let from = 0; from < data.length; from += VECTOR_SIZE) {
    const vector = data.subarray(from, from + VECTOR_SIZE);
    const length = Math.sqrt(vector.reduce((sum, x) => sum + x * x, 0)) || 1;
    vector.forEach((x, index) => (vector[index] = x / length));
  }
  return { data, count };
}
