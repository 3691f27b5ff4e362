/**
 * A general speech-to-text model (docs/third-party.md), trained on English of very many
 * people. It is never asked what was said, only how likely each of a few texts is: each
 * text is fed to it token by token, and what it says of the next one is multiplied up.
 */
import { Tensor } from 'onnxruntime-web/wasm';
import type { InferenceSession } from 'onnxruntime-web/wasm';
import { openModel, runInTurn } from './model-runs';
import type { ReadModelFile } from './model-runs';
import { NextTokens } from './next-tokens';
import { END, loadTokens } from './text-tokens';
import type { ToTokens } from './text-tokens';

/** Its files, by the names that a reader is asked for. */
const ENCODER_FILE = 'text-model/encoder_model.onnx';
const DECODER_FILE = 'text-model/decoder_model_merged.onnx';
/** Only longer sound is taken: a tenth of a second, as its makers' own code demands. */
const TOO_SHORT_SAMPLES = 1_600;
/** What a memory of nothing looks like: no texts, 8 heads, one place, 36 numbers. */
const NO_MEMORY = new Tensor('float32', new Float32Array(0), [0, 8, 1, 36]);

/** What the model remembers of a text so far and of the sound, by name of its input. */
type Memory = Readonly<Record<string, Tensor>>;
type Tokens = readonly number[];

/** A sound, ready to be asked for any text. */
export interface HeardText {
  readonly states: Tensor;
}

export class TextModel {
  private constructor(
    private readonly encoder: InferenceSession,
    private readonly decoder: InferenceSession,
    private readonly toTokens: ToTokens,
  ) {}

  /** Rejects where a file is missing or damaged. */
  static async create(read: ReadModelFile): Promise<TextModel> {
    const toTokens = await loadTokens();
    const encoder = await openModel(read, ENCODER_FILE);
    return new TextModel(encoder, await openModel(read, DECODER_FILE), toTokens);
  }

  /** Sound at 16 kHz, -1 to 1, at most 64 seconds. Null where it is too short for anything. */
  async hear(pcm: Float32Array): Promise<HeardText | null> {
    if (pcm.length <= TOO_SHORT_SAMPLES) return null;
    const sound = new Tensor('float32', pcm, [1, pcm.length]);
    const out = await runInTurn(() => this.encoder.run({ input_values: sound }));
    return { states: out['last_hidden_state'] as Tensor };
  }

  /**
   * For each text the natural log of how likely exactly it is, given the sound. For a dozen
   * texts or so at once: memory grows with their number. The model rounds its numbers for
   * all texts of a call together, so that the same text differs a little from call to call.
   */
  async weigh(heard: HeardText, texts: readonly string[]): Promise<readonly number[]> {
    const rows = texts.map(this.toTokens);
    const [first] = rows;
    if (first === undefined) return [];
    const shared = countShared(rows);
    // What all begin with is run once; its last place says how each goes on.
    const begun = await this.#begin(heard, first.slice(0, shared));
    const longer = rows.filter((row) => row.length > shared + 1);
    const restOf = await this.#goOn(heard, begun.memory, longer, shared);
    return rows.map(
      (row) =>
        sumOf(shared, (at) => begun.next.logOf(at, row[at + 1] ?? END)) + (restOf.get(row) ?? 0),
    );
  }

  async close(): Promise<void> {
    await this.encoder.release();
    await this.decoder.release();
  }

  async #begin(
    { states }: HeardText,
    tokens: Tokens,
  ): Promise<{ readonly next: NextTokens; readonly memory: Memory }> {
    const names = this.decoder.inputNames.filter((name) => name.startsWith('past_key_values'));
    const feeds = {
      input_ids: toTensor([tokens]),
      encoder_hidden_states: states,
      use_cache_branch: new Tensor('bool', [false]),
      ...Object.fromEntries(names.map((name) => [name, NO_MEMORY])),
    };
    const out = await runInTurn(() => this.decoder.run(feeds));
    const memory = names.map((name) => [name, out[name.replace('past_key_values', 'present')]]);
    return { next: nextTokensOf(out), memory: Object.fromEntries(memory) as Memory };
  }

  /** By row: the log of how likely what comes after its first shared tokens and one more is. */
  async #goOn(
    { states }: HeardText,
    memory: Memory,
    rows: readonly Tokens[],
    shared: number,
  ): Promise<ReadonlyMap<Tokens, number>> {
    if (rows.length === 0) return new Map();
    const places = Math.max(...rows.map(({ length }) => length)) - 1 - shared;
    // The sound is the same for all texts, and the model takes it as one for all.
    const repeated = Object.entries(memory).map(([name, tensor]) => [
      name,
      name.includes('decoder') ? repeat(tensor, rows.length) : tensor,
    ]);
    const feeds = {
      input_ids: toTensor(
        rows.map((row) => Array.from({ length: places }, (_, at) => row[shared + at] ?? END)),
      ),
      encoder_hidden_states: states,
      use_cache_branch: new Tensor('bool', [true]),
      ...(Object.fromEntries(repeated) as Memory),
    };
    const next = nextTokensOf(await runInTurn(() => this.decoder.run(feeds, ['logits'])));
    return new Map(
      rows.map((row, index) => [
        row,
        sumOf(row.length - 1 - shared, (at) =>
          next.logOf(index * places + at, row[shared + at + 1] ?? END),
        ),
      ]),
    );
  }
}

/** How many tokens all rows begin with; at least one more is left of each. */
function countShared(rows: readonly Tokens[]): number {
  let count = 0;
  const goesOn = (row: Tokens): boolean =>
    row.length > count + 1 && row[count] === rows[0]?.[count];
  while (rows.every(goesOn)) count += 1;
  return count;
}

function sumOf(count: number, valueOf: (index: number) => number): number {
  return Array.from({ length: count }, (_, index) => valueOf(index)).reduce((a, b) => a + b, 0);
}

function nextTokensOf(out: InferenceSession.ReturnType): NextTokens {
  return new NextTokens(out['logits']?.data as Float32Array);
}

function toTensor(rows: readonly Tokens[]): Tensor {
  const tokens = BigInt64Array.from(rows.flat(), BigInt);
  return new Tensor('int64', tokens, [rows.length, rows[0]?.length ?? 0]);
}

/** The same for each of several texts. */
function repeat(one: Tensor, times: number): Tensor {
  const data = one.data as Float32Array;
  const all = new Float32Array(times * data.length);
  for (let time = 0; time < times; time += 1) all.set(data, time * data.length);
  return new Tensor('float32', all, [times, ...one.dims.slice(1)]);
}
