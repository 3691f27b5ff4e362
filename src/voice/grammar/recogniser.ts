/**
 * The thin layer over soundswallower (MIT): loads its WebAssembly and the model of a
 * language, and gives what one decoding pass found with its score. Works in Node and
 * in a worker; where the files lie is told from outside. Owns every cast that the
 * library's typings need.
 */
import createModule from 'soundswallower';
import type { Decoder, SoundSwallowerModule } from 'soundswallower';
import { setWordGraph } from './decoder-graph';
import type { Segment } from './explained';
import type { SpokenLanguage } from '../languages/languages';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import type { WordGraph } from './word-graph';

/** Where the recogniser's files lie. */
export interface ModelFiles {
  /** Folder or URL that holds `en-us/` and the other models, with a slash at the end. */
  readonly modelBase: string;
}

/** What one pass over an utterance found. */
export interface Pass {
  /** Words of the best path; null where no path reached the end of the grammar. */
  readonly text: string | null;
  /** Log score of the path, per 10 ms frame, in the decoder's own unit. */
  readonly scorePerFrame: number;
  readonly segments: readonly Segment[];
}

/** The parts of the compiled module that its typings leave out. */
interface Internals {
  readonly HEAP8: Int8Array;
  get_model_path(name: string): string;
  _malloc(bytes: number): number;
  _decoder_hyp(decoder: number, scoreAddress: number): number;
  _decoder_init_feat_s3file(decoder: number, transform: number): number;
}

/** The parts of a decoder that the typings leave out. */
interface DecoderInternals {
  readonly cdecoder: number;
  init_feat(): Promise<number>;
}

/** How many samples are one frame of the recogniser? 10 ms. */
const FRAME_SAMPLES = SAMPLE_RATE_HZ / 100;

/** Options of a decoder, by the library's own names. */
export type DecoderOptions = Readonly<Record<string, string | number | boolean>>;

/** Loads the library once; decoders share it. */
export async function loadRecogniser({ modelBase }: ModelFiles): Promise<SoundSwallowerModule> {
  return createModule({ modelBase } as object);
}

/** One decoder with one grammar at a time. */
export class GrammarDecoder {
  readonly #module: SoundSwallowerModule & Internals;
  readonly #decoder: Decoder;
  readonly #scoreAddress: number;
  /** Asked for once: the library leaves some bytes behind with every look into its dictionary. */
  readonly #knownWords = new Set<string>();

  private constructor(
    module: SoundSwallowerModule,
    decoder: Decoder,
    private readonly language: SpokenLanguage,
  ) {
    this.#module = module as SoundSwallowerModule & Internals;
    this.#decoder = decoder;
    this.#scoreAddress = this.#module._malloc(4);
  }

  /** Loads the model. Rejects where a file is missing or damaged. */
  static async create(
    module: SoundSwallowerModule,
    language: SpokenLanguage,
    options: DecoderOptions = {},
  ): Promise<GrammarDecoder> {
    const hmm = (module as unknown as Internals).get_model_path(language.model);
    const config = { hmm, samprate: SAMPLE_RATE_HZ, loglevel: 'FATAL', ...options };
    const decoder = new module.Decoder(config);
    skipFeatureTransform(module as SoundSwallowerModule & Internals, decoder);
    await decoder.initialize();
    return new GrammarDecoder(module, decoder, language);
  }

  /** Whether a word has a pronunciation; teaches it from the lexicon where that has one. */
  canPronounce(word: string): boolean {
    if (this.#isKnown(word)) return true;
    const [first, ...others] = this.language.lexicon[word] ?? [];
    if (first === undefined) return false;
    this.addWord(word, first);
    others.forEach((phones, index) => this.addWord(`${word}(${index + 2})`, phones));
    return true;
  }

  /** A word's phones; null where nobody knows it. */
  phonesOf(word: string): readonly string[] | null {
    if (!this.canPronounce(word)) return null;
    return (this.#decoder.lookup_word(word) as string).trim().split(/\s+/);
  }

  /** Adds a word unless it is known: the library throws a fault of its own on a second time. */
  addWord(word: string, phones: string): void {
    if (!this.#isKnown(word)) this.#decoder.add_words([word, phones]);
  }

  /** Sets what is heard from now on, as a graph of words that can be pronounced. */
  setWordGraph(graph: WordGraph): void {
    setWordGraph(this.#module, this.#decoder, graph);
  }

  /** Decodes one whole utterance. */
  decode(pcm: Float32Array): Pass {
    this.#decoder.start();
    this.#decoder.process_audio(pcm, false, true);
    this.#decoder.stop();
    const hypothesis = this.#module._decoder_hyp(this.#handle(), this.#scoreAddress);
    if (hypothesis === 0) return { text: null, scorePerFrame: -Infinity, segments: [] };
    const score = new DataView(this.#module.HEAP8.buffer).getInt32(this.#scoreAddress, true);
    const frames = Math.max(1, Math.floor(pcm.length / FRAME_SAMPLES));
    const segments = (this.#decoder.get_alignment().w ?? []).map(({ t, b, d }) => ({
      fromS: b,
      lengthS: d,
      word: /^\p{Ll}/u.test(t) ? t.replace(/\(\d+\)$/, '') : null,
    }));
    return { text: this.#decoder.get_text(), scorePerFrame: score / frames, segments };
  }

  close(): void {
    this.#decoder.delete();
  }

  #isKnown(word: string): boolean {
    if (this.#knownWords.has(word)) return true;
    const isKnown = (this.#decoder.lookup_word(word) as string | null) !== null;
    if (isKnown) this.#knownWords.add(word);
    return isKnown;
  }

  #handle(): number {
    return (this.#decoder as unknown as DecoderInternals).cdecoder;
  }
}

/**
 * The models have no feature transform. Left to itself the library asks the
 * server for one, and takes whatever a lenient server answers for it.
 */
function skipFeatureTransform(module: Internals, decoder: Decoder): void {
  const inside = decoder as unknown as DecoderInternals;
  inside.init_feat = async () => {
    const made = module._decoder_init_feat_s3file(inside.cdecoder, 0);
    if (made === 0) throw new Error('The feature module does not start');
    return made;
  };
}
