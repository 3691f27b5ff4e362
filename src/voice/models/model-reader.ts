/**
 * Reads the models' files in a worker of the browser. Their run-time is the file that the
 * bundler lays down for onnxruntime-web itself: asked for by the same address, it lies in
 * the build once.
 */
import runtimeUrl from 'onnxruntime-web/ort-wasm-simd-threaded.wasm?url';
import { RUNTIME_FILE } from './model-runs';
import type { ReadModelFile } from './model-runs';

/** Reads what lies below `base`, an absolute URL; rejects with the address and the answer where a file is missing. */
export function createModelReader(base: string): ReadModelFile {
  return async (name) => {
    const url = name === RUNTIME_FILE ? new URL(runtimeUrl, import.meta.url) : new URL(name, base);
    const response = await fetch(url);
    if (!response.ok) throw new Error(`${url.href}: ${response.status}`);
    return new Uint8Array(await response.arrayBuffer());
  };
}
