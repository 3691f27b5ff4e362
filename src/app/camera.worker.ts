/**
 * Reads bar codes out of pictures, away from the screen's own thread. The reader's
 * WebAssembly comes from our own origin; it would fetch it from elsewhere by default.
 */
import { prepareZXingModule, readBarcodes } from 'zxing-wasm/reader';
import wasmUrl from 'zxing-wasm/reader/zxing_reader.wasm?url';

/** What the screen gets for each picture: texts with their symbology identifiers. */
export interface CameraReading {
  readonly texts: readonly string[];
  /** Why nothing can be read at all; null otherwise. */
  readonly problem: string | null;
  readonly decodeMs: number;
}

/** The symbols that implants carry: GS1-128, GS1 DataMatrix, GS1 QR, HIBC in any of them and in Code 39, product codes. */
const FORMATS = ['DataMatrix', 'Code128', 'QRCode', 'Code39', 'EAN13', 'EAN8'] as const;

prepareZXingModule({
  overrides: {
    locateFile: (path: string, prefix: string) =>
      path.endsWith('.wasm') ? new URL(wasmUrl, self.location.href).href : prefix + path,
  },
});

self.addEventListener('message', (event: MessageEvent<ImageData>) => {
  void read(event.data);
});

async function read(picture: ImageData): Promise<void> {
  const from = performance.now();
  try {
    const found = await readBarcodes(picture, {
      formats: [...FORMATS],
      tryHarder: true,
      // Plain keeps the group separator; the readable form would write it out.
      textMode: 'Plain',
      maxNumberOfSymbols: 2,
    });
    const texts = found
      .filter(({ isValid }) => isValid)
      .map(({ symbologyIdentifier, text }) => `${symbologyIdentifier}${text}`);
    answer({ texts, problem: null, decodeMs: performance.now() - from });
  } catch (cause) {
    answer({ texts: [], problem: String(cause), decodeMs: performance.now() - from });
  }
}

function answer(reading: CameraReading): void {
  self.postMessage(reading);
}
