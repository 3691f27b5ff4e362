/** ZXing as Cuewall asks it: which symbols, how hard, and what a text looks like afterwards. */
import { readBarcodes } from 'zxing-wasm/reader';

/** The symbols that implants carry: GS1-128, GS1 DataMatrix, GS1 QR, HIBC in any of them and in Code 39, product codes. */
const FORMATS = ['DataMatrix', 'Code128', 'QRCode', 'Code39', 'EAN13', 'EAN8'] as const;

/** The texts of a picture with their symbology identifiers, as a scanner would send them. */
export async function readByZxing(picture: ImageData): Promise<readonly string[]> {
  const found = await readBarcodes(picture, {
    formats: [...FORMATS],
    tryHarder: true,
    // Plain keeps the group separator; the readable form would write it out.
    textMode: 'Plain',
    maxNumberOfSymbols: 2,
  });
  return found
    .filter(({ isValid }) => isValid)
    .map(({ symbologyIdentifier, text }) => `${symbologyIdentifier}${text}`);
}
