/**
 * Reads bar codes out of pictures, away from the screen's own thread: by the platform's
 * reader where it reads all that packs carry, else by ZXing, whose
 * WebAssembly comes from our own origin; it would fetch it from elsewhere by default.
 */
import { prepareZXingModule } from 'zxing-wasm/reader';
import { createReader } from './label-reader';
import type { PlatformDetectors, ReaderName } from './label-reader';
import { readByZxing } from './zxing-reader';
import wasmUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';

/** What the screen gets for each picture: texts with their symbology identifiers. */
export interface CameraReading {
  readonly texts: readonly string[];
  /** Why nothing can be read at all; null otherwise. */
  readonly problem: string | null;
  readonly decodeMs: number;
  readonly reader: ReaderName;
}

prepareZXingModule({
  overrides: {
    locateFile: (path: string, prefix: string) =>
      path.endsWith('.wasm') ? new URL(wasmUrl, self.location.href).href : prefix + path,
  },
});

const { BarcodeDetector } = self as { readonly BarcodeDetector?: PlatformDetectors };
const reader = createReader(BarcodeDetector, readByZxing);

self.addEventListener('message', (event: MessageEvent<ImageData>) => {
  void read(event.data);
});

async function read(picture: ImageData): Promise<void> {
  const from = performance.now();
  try {
    const found = await (await reader)(picture);
    answer({ ...found, problem: null, decodeMs: performance.now() - from });
  } catch (cause) {
    answer({
      texts: [],
      problem: String(cause),
      decodeMs: performance.now() - from,
      reader: 'zxing',
    });
  }
}

function answer(reading: CameraReading): void {
  self.postMessage(reading);
}
