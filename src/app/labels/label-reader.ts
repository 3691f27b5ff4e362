/**
 * Who reads the bar codes of a picture: the browser itself where its platform reads every
 * symbol that implants carry, else ZXing, which the program brings along. Knows no worker
 * and no screen; both readers come in from outside.
 */

/** How a reader is called on the camera panel. */
export type ReaderName = 'platform' | 'zxing';

/** What was read of one picture, as a scanner would send it, and by whom. */
export interface ReadTexts {
  readonly texts: readonly string[];
  readonly reader: ReaderName;
}

/** Part of the Shape Detection API (W3C draft): what a browser's own reader offers. */
export interface PlatformDetector {
  detect(
    picture: ImageData,
  ): Promise<readonly { readonly rawValue: string; readonly format: string }[]>;
}
export interface PlatformDetectors {
  new (options: { readonly formats: readonly string[] }): PlatformDetector;
  getSupportedFormats(): Promise<readonly string[]>;
}

type Read = (picture: ImageData) => Promise<readonly string[]>;

/** Every symbol that a pack may carry, by that API's names; a platform that lacks one is not asked. */
const NEEDED = ['data_matrix', 'code_128', 'qr_code', 'code_39', 'ean_13', 'ean_8'] as const;

/** GS1 data may begin with the separator where the symbol said so; the API gives no symbology identifier. */
const LEADING_SEPARATOR = /^\u001d/;

/** Makes the reader; a platform's that fails once is not asked again. */
export async function createReader(
  detectors: PlatformDetectors | undefined,
  readByZxing: Read,
): Promise<(picture: ImageData) => Promise<ReadTexts>> {
  let platform = await findPlatform(detectors);
  return async (picture) => {
    if (platform !== null) {
      try {
        const found = await platform.detect(picture);
        return { texts: found.map(toScan), reader: 'platform' };
      } catch {
        // Not told as a fault: the panel names who reads, and nothing was lost but one picture.
        platform = null;
      }
    }
    return { texts: await readByZxing(picture), reader: 'zxing' };
  };
}

async function findPlatform(
  detectors: PlatformDetectors | undefined,
): Promise<PlatformDetector | null> {
  if (!detectors) return null;
  try {
    const offered = await detectors.getSupportedFormats();
    const hasAll = NEEDED.every((format) => offered.includes(format));
    return hasAll ? new detectors({ formats: [...NEEDED] }) : null;
  } catch {
    return null;
  }
}

/** A product code is told by its symbol, as a scanner tells it; all else by how it begins. */
function toScan({ rawValue, format }: { rawValue: string; format: string }): string {
  if (format === 'ean_13') return `]E0${rawValue}`;
  return format === 'ean_8' ? `]E4${rawValue}` : rawValue.replace(LEADING_SEPARATOR, '');
}
