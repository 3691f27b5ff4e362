/**
 * The speaking half of the general speech model (speech-encoder.ts). It is never asked what was said, only how likely each of a few texts is: each
 * text is fed to it token by token, and what it says of the next one is multiplied up.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { openModel, runInTurn } from '../models/model-runs';
import type { ReadModelFile } from '../models/model-runs';
import { NextTokens } from './next-tokens';
import type { HeardSound } from './speech-encoder';
import { BEGIN, loadTokens } from './text-tokens';
import type { ToTokens } from './text-tokens';

const FILE = 'text-model/decoder_model_merged.onnx';
/** A memory of nothing: no text, 8 heads, one place, 36 numbers. */
const NOTHING = new Tensor('float32', new Float32Array(0), [0, 8, 1, 36]);

/** What the model remembers of the sound and of a text so far, by name of its input. */
type Memory = Readonly<Record<string, Tensor>>;
type Tokens = readonly number[];

/** How far the model has come: what may be next, and what it needs to go on. */
interface Reached {
  readonly next: NextTokens;
  readonly memory: Memory;
}

/** A sound, ready to be asked for any text: the model stands before the first token. */
export interface HeardText extends Reached {
  readonly states: Tensor;
}

export class TextModel {
  private constructor(
    private readonly decoder: InferenceSession,
    private readonly toTokens: ToTokens,
  ) {}

  /** Rejects where a file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<TextModel> {
    return new TextModel(await openModel(read, FILE), await loadTokens());
  }

  /** Begins with what the other half made of a sound. */
  async begin({ states }: HeardSound): Promise<HeardText> {
    const names = this.decoder.inputNames.filter((name) => name.startsWith('past_key_values'));
    const nothing = Object.fromEntries(names.map((name) => [name, NOTHING]));
    // By itself: its numbers are far larger than any other token's, and would coarsen theirs.
    return { states, ...(await this.#run(states, nothing, [[BEGIN]], false)) };
  }

  /**
   * For each text the natural log of how likely exactly it is, given the sound. For a dozen
   * texts or so at once: memory grows with their number. The model rounds its numbers for
   * all texts of a call together, so that a text's likelihood differs by some tenths from
   * call to call (docs/voice.md).
   */
  async weigh(heard: HeardText, texts: readonly string[]): Promise<readonly number[]> {
    const rows = texts.map(this.toTokens);
    const [first = []] = rows;
    // What all begin with is run once, what is left of each for all at once.
    const shared = countShared(rows);
    const beginning = first.slice(0, shared);
    const stem = shared > 0 ? await this.#goOn(heard, heard.memory, [beginning]) : heard;
    const longer = rows.filter((row) => row.length > shared + 1);
    const rests = longer.map((row) => row.slice(shared, -1));
    const places = Math.max(0, ...rests.map(({ length }) => length));
    const rest = longer.length > 0 ? await this.#goOn(heard, stem.memory, rests) : stem;
    const logOf = (row: Tokens, at: number, token: number): number => {
      if (at === 0) return heard.next.logOf(0, token);
      if (at <= shared) return stem.next.logOf(at - 1, token);
      return rest.next.logOf(longer.indexOf(row) * places + at - shared - 1, token);
    };
    return rows.map((row) => row.reduce((sum, token, at) => sum + logOf(row, at, token), 0));
  }

  async close(): Promise<void> {
    await this.decoder.release();
  }

  /** Feeds it several texts that all stand where this memory does. */
  #goOn({ states }: HeardText, memory: Memory, rows: readonly Tokens[]): Promise<Reached> {
    const longest = Math.max(...rows.map(({ length }) => length));
    // What fills up a shorter row comes after it, and is not looked at.
    const filled = rows.map((row) =>
      Array.from({ length: longest }, (_, at) => row[Math.min(at, row.length - 1)] ?? BEGIN),
    );
    return this.#run(states, repeatTexts(memory, rows.length), filled, true);
  }

  async #run(
    states: Tensor,
    memory: Memory,
    rows: readonly Tokens[],
    hasMemory: boolean,
  ): Promise<Reached> {
    const feeds = {
      input_ids: toTensor(rows),
      encoder_hidden_states: states,
      use_cache_branch: new Tensor('bool', [hasMemory]),
      ...memory,
    };
    // Of the sound it remembers what it was given; only texts grow.
    const grown = Object.keys(memory).filter((name) => !hasMemory || isOfTexts(name));
    const outputs = grown.map((name) => name.replace('past_key_values', 'present'));
    const out = await runInTurn(() => this.decoder.run(feeds, ['logits', ...outputs]));
    const news = grown.map((name, index) => [name, out[outputs[index] ?? '']]);
    return {
      next: new NextTokens(out['logits']?.data as Float32Array),
      memory: { ...memory, ...(Object.fromEntries(news) as Memory) },
    };
  }
}

function isOfTexts(name: string): boolean {
  return name.includes('.decoder.');
}

/** How many tokens all rows begin with; at least one more is left of each. */
function countShared(rows: readonly Tokens[]): number {
  let count = 0;
  const goesOn = (row: Tokens): boolean =>
    row.length > count + 1 && row[count] === rows[0]?.[count];
  while (rows.length > 0 && rows.every(goesOn)) count += 1;
  return count;
}

function toTensor(rows: readonly Tokens[]): Tensor {
  const tokens = BigInt64Array.from(rows.flat(), BigInt);
  return new Tensor('int64', tokens, [rows.length, rows[0]?.length ?? 0]);
}

/** The memory of one text for each of several. The sound is the same for all, and the model takes it as one for all. */
function repeatTexts(memory: Memory, times: number): Memory {
  const all = Object.entries(memory).map(([name, tensor]) => [
    name,
    isOfTexts(name) ? repeat(tensor, times) : tensor,
  ]);
  return Object.fromEntries(all) as Memory;
}

function repeat(one: Tensor, times: number): Tensor {
  const data = one.data as Float32Array;
  const all = new Float32Array(times * data.length);
  for (let time = 0; time < times; time += 1) all.set(data, time * data.length);
  return new Tensor('float32', all, [times, ...one.dims.slice(1)]);
}
