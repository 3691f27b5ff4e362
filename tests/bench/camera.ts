/**
 * How long ZXing needs for a picture of the camera's size, in Node and with what the camera's
 * worker asks of it: each kind of symbol straight, turned, dim and blurred, and a picture
 * without any. Beside it one pass over the same pixels, so that slow machines can be told apart.
 */
import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { prepareZXingModule } from 'zxing-wasm/reader';
import { readByZxing } from '../../src/app/labels/zxing-reader';
import { drawSymbol, SYMBOLS, VIEWS } from '../browser/symbols-as-camera';
import { spread } from './spread';

const TIMES = 20;

/** Times in milliseconds by kind and view, and how many pictures were not read. */
export async function benchCamera(): Promise<object> {
  const wasm = createRequire(import.meta.url).resolve('zxing-wasm/reader/zxing_reader.wasm');
  const wasmBinary = new Uint8Array(await readFile(wasm)).buffer;
  await prepareZXingModule({ overrides: { wasmBinary }, fireImmediately: true });
  const pictures = SYMBOLS.flatMap(({ name, bcid, make }) =>
    Object.entries(VIEWS).map(([how, view]) => ({
      what: `${name} ${how.toLowerCase()}`,
      picture: toPicture(drawSymbol({ bcid, text: make('LOT1'), view })),
    })),
  );
  const rows = [];
  for (const { what, picture } of pictures) {
    const texts = await readByZxing(picture);
    rows.push({ what, isRead: texts.length > 0, decodeMs: spread(await measure(picture)) });
  }
  const [some] = pictures;
  if (!some) throw new Error('No symbols to draw');
  const { width, height } = some.picture;
  const empty = toPicture({ width, height, grey: Buffer.alloc(width * height, 235) });
  return {
    size: `${width} × ${height}`,
    notRead: rows.filter(({ isRead }) => !isRead).map(({ what }) => what),
    rows,
    emptyMs: spread(await measure(empty)),
    reference: { what: 'one pass over the pixels', ms: spread(Array.from({ length: TIMES }, () => onePass(some.picture))) },
  }; // prettier-ignore
}

async function measure(picture: ImageData): Promise<readonly number[]> {
  const times: number[] = [];
  for (let index = 0; index < TIMES; index += 1) {
    const from = performance.now();
    await readByZxing(picture);
    times.push(performance.now() - from);
  }
  return times;
}

/** As a canvas gives it: four bytes a pixel. */
function toPicture({ width, height, grey }: ReturnType<typeof drawSymbol>): ImageData {
  const data = Uint8ClampedArray.from({ length: width * height * 4 }, (_, at) =>
    at % 4 === 3 ? 255 : (grey[at >> 2] ?? 0),
  );
  return { width, height, data, colorSpace: 'srgb' } as ImageData;
}

function onePass({ data }: ImageData): number {
  const from = performance.now();
  let sum = 0;
  for (let at = 0; at < data.length; at += 4) sum += data[at] ?? 0;
  if (sum < 0) throw new Error('Grey values are never negative');
  return performance.now() - from;
}
