/**
 * How the models of the listeners are opened and run: on one thread, one run after another,
 * because the run-time takes no two at once.
 */
import { env, InferenceSession } from 'onnxruntime-web/wasm';

/** Reads one file of the models by name; rejects where it is missing. */
export type ReadModelFile = (name: string) => Promise<Uint8Array>;

/** WebAssembly of the run-time, by the name that a reader is asked for. */
export const RUNTIME_FILE = 'ort-wasm-simd-threaded.wasm';

let queue: Promise<unknown> = Promise.resolve();

/** Runs one model after whatever runs now. */
export function runInTurn<T>(run: () => Promise<T>): Promise<T> {
  const done = queue.then(run);
  queue = done.catch(() => undefined);
  return done;
}

/** Opens one model on one thread. Rejects where a file is missing or damaged. */
export async function openModel(read: ReadModelFile, name: string): Promise<InferenceSession> {
  env.wasm.numThreads = 1;
  env.wasm.proxy = false;
  env.wasm.wasmBinary ??= await read(RUNTIME_FILE);
  const options = { executionProviders: ['wasm'], intraOpNumThreads: 1 };
  return InferenceSession.create(await read(name), options);
}
