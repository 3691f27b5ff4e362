/**
 * Hands a word graph to a decoder of soundswallower. The library's own way in is JSGF; but
 * its compiler shares a probability out level by level, which JSGF can't say otherwise, and
 * then paths are given up at other moments (docs/voice-tried.md). So the graph is put
 * together with the functions that the compiler itself calls.
 */
import type { Decoder, SoundSwallowerModule } from 'soundswallower';
import { END, START } from './word-graph';
import type { WordGraph } from './word-graph';

/** The parts of the compiled module that its typings leave out. Log probabilities are whole numbers in its own unit. */
interface Internals {
  readonly HEAP8: Int8Array;
  _malloc(bytes: number): number;
  _free(address: number): void;
  _decoder_logmath(decoder: number): number;
  _logmath_log(logmath: number, probability: number): number;
  _fsg_model_init(name: number, logmath: number, languageWeight: number, states: number): number;
  _fsg_set_states(graph: number, start: number, end: number): void;
  _fsg_model_word_add(graph: number, word: number): number;
  _fsg_model_trans_add(graph: number, from: number, to: number, log: number, word: number): void;
  _fsg_model_null_trans_add(graph: number, from: number, to: number, log: number): number;
  _decoder_set_fsg(decoder: number, graph: number): number;
}

/** Sets what the decoder hears from now on. Every word must be in its dictionary; throws otherwise. */
export function setWordGraph(
  library: SoundSwallowerModule,
  decoder: Decoder,
  { states, arcs }: WordGraph,
): void {
  const module = library as unknown as Internals;
  const handle = (decoder as unknown as { readonly cdecoder: number }).cdecoder;
  const logmath = module._decoder_logmath(handle);
  const weight = Number(decoder.get_config('lw'));
  const graph = withText(module, 'commands', (name) =>
    module._fsg_model_init(name, logmath, weight, states),
  );
  module._fsg_set_states(graph, START, END);
  for (const { from, to, word, probability } of arcs) {
    const log = probability === 1 ? 0 : module._logmath_log(logmath, probability);
    if (word === null) module._fsg_model_null_trans_add(graph, from, to, log);
    else {
      const id = withText(module, word, (text) => module._fsg_model_word_add(graph, text));
      module._fsg_model_trans_add(graph, from, to, log, id);
    }
  }
  if (module._decoder_set_fsg(handle, graph) < 0) throw new Error('The decoder refuses the words');
}

/** Lends the library a text, which it copies, and takes it back. */
function withText(module: Internals, text: string, use: (address: number) => number): number {
  const bytes = new TextEncoder().encode(`${text}\0`);
  const address = module._malloc(bytes.length);
  module.HEAP8.set(bytes, address);
  const result = use(address);
  module._free(address);
  return result;
}
