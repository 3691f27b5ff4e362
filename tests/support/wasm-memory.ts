/** What memory is held: tools for measuring it in Node. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

/**
 * How much memory WebAssembly modules hold that are loaded from now on: it only ever grows,
 * and the heap's size does not count it.
 */
export function watchWasmMemory(): { readonly bytes: () => number; readonly stop: () => void } {
  const memories = new Set<WebAssembly.Memory>();
  const original = WebAssembly.instantiate;
  const note = (things: unknown): void => {
    if (things instanceof WebAssembly.Memory) memories.add(things);
    else if (typeof things === 'object' && things !== null) Object.values(things).forEach(note);
  };
  const watching = async (source: BufferSource, imports?: WebAssembly.Imports) => {
    note(imports);
    const made: unknown = await original(source, imports);
    const { instance } = made as { readonly instance?: WebAssembly.Instance };
    note((instance ?? (made as WebAssembly.Instance)).exports);
    return made;
  };
  WebAssembly.instantiate = watching as typeof original;
  return {
    bytes: () => [...memories].reduce((sum, { buffer }) => sum + buffer.byteLength, 0),
    stop: () => {
      WebAssembly.instantiate = original;
    },
  };
}

/** Without it the heap's size says when V8 last tidied up, not what is held. */
export function collectGarbage(): void {
  setFlagsFromString('--expose-gc');
  (runInNewContext('gc') as () => void)();
}
