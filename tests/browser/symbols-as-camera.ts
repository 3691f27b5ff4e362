/**
 * A Y4M file for Chromium's fake camera: symbols drawn by bwip-js, one after another,
 * each straight, turned, dim and blurred. Grey pictures, drawn here pixel by pixel.
 */
import { open } from 'node:fs/promises';
import bwipjs from 'bwip-js/node';

const WIDTH = 960;
const HEIGHT = 540;
/** Pictures a second, and how many of each symbol: long enough to be read twice. */
const RATE = 4;
const PICTURES_EACH = 8;
const WHITE = 235;
const INK = 25;

/** Makers' and HIBC's own example numbers (GS1 syntax-engine tests; ANSI/HIBC 2.6 figure 2). */
export const SYMBOLS = [
  { name: 'DM', bcid: 'gs1datamatrix', make: (lot: string) => `(01)09520123456788(17)271130(10)${lot}(21)7` },
  { name: 'C128', bcid: 'gs1-128', make: (lot: string) => `(01)09520123456788(10)${lot}` },
  { name: 'QR', bcid: 'gs1qrcode', make: (lot: string) => `(01)09520123456788(17)271130(10)${lot}(21)7` },
  { name: 'HIBC', bcid: 'hibccode128', make: (lot: string) => `A123BJC5D6E71/$${lot}` },
] as const; // prettier-ignore

/** How a symbol is shown. */
export const VIEWS = {
  STRAIGHT: { turnDeg: 0, light: 1, blur: 0 },
  TURNED: { turnDeg: 17, light: 1, blur: 0 },
  DIM: { turnDeg: 0, light: 0.25, blur: 0 },
  BLURRED: { turnDeg: 0, light: 1, blur: 1 },
} as const;
type View = (typeof VIEWS)[keyof typeof VIEWS];

/** What bwip-js gives: modules of a matrix, or widths of bars and spaces. */
type Raw =
  | { readonly pixs: readonly number[]; readonly pixx: number; readonly pixy: number }
  | { readonly sbs: readonly number[] };
interface Symbol {
  readonly bcid: string;
  readonly text: string;
  readonly view: View;
}

/** One symbol in the middle of a picture: its grey values and size. */
export function drawSymbol({ bcid, text, view }: Symbol) {
  return { width: WIDTH, height: HEIGHT, grey: draw(rasterise(bcid, text), view) };
}

/** Writes the film of these symbols; it is shown over and over. */
export async function writeCameraFile(path: string, symbols: readonly Symbol[]): Promise<void> {
  const file = await open(path, 'w');
  await file.write(`YUV4MPEG2 W${WIDTH} H${HEIGHT} F${RATE}:1 Ip A1:1 C420mpeg2\n`);
  const noColour = Buffer.alloc((WIDTH * HEIGHT) / 2, 128);
  for (const symbol of symbols) {
    const { grey: picture } = drawSymbol(symbol);
    for (let index = 0; index < PICTURES_EACH; index += 1) {
      await file.write('FRAME\n');
      await file.write(picture);
      await file.write(noColour);
    }
  }
  await file.close();
}

interface Raster {
  readonly isDark: (x: number, y: number) => boolean;
  readonly width: number;
  readonly height: number;
}

/** A symbol in pixels, without its quiet zone. */
function rasterise(bcid: string, text: string): Raster {
  // Not in the package's types, but in its documentation ("bwipjs.raw").
  const { raw } = bwipjs as unknown as { raw(options: object): readonly Raw[] };
  const [symbol] = raw({ bcid, text });
  if (!symbol) throw new Error(`bwip-js draws nothing for ${bcid}`);
  if ('pixs' in symbol) {
    const { pixs, pixx, pixy } = symbol;
    const module = Math.floor(300 / Math.max(pixx, pixy));
    const at = (x: number, y: number) =>
      pixs[Math.floor(y / module) * pixx + Math.floor(x / module)];
    return { width: pixx * module, height: pixy * module, isDark: (x, y) => at(x, y) === 1 };
  }
  const bars = symbol.sbs.flatMap((width, index) => Array<number>(width).fill((index + 1) % 2));
  const module = Math.floor(800 / bars.length);
  return {
    width: bars.length * module,
    height: 320,
    isDark: (x) => bars[Math.floor(x / module)] === 1,
  };
}

/** The picture: the symbol in the middle, turned about it, then blurred and darkened. */
function draw({ isDark, width, height }: Raster, { turnDeg, light, blur }: View): Buffer {
  const angle = (turnDeg * Math.PI) / 180;
  const sharp = Buffer.alloc(WIDTH * HEIGHT, WHITE);
  for (let row = 0; row < HEIGHT; row += 1) {
    for (let column = 0; column < WIDTH; column += 1) {
      const [dx, dy] = [column - WIDTH / 2, row - HEIGHT / 2];
      const x = dx * Math.cos(angle) + dy * Math.sin(angle) + width / 2;
      const y = dy * Math.cos(angle) - dx * Math.sin(angle) + height / 2;
      if (x >= 0 && x < width && y >= 0 && y < height && isDark(x, y))
        sharp[row * WIDTH + column] = INK;
    }
  }
  return Buffer.from(
    sharp.map((_, place) => Math.round(16 + (meanAround(sharp, place, blur) - 16) * light)),
  );
}

function meanAround(picture: Buffer, place: number, reach: number): number {
  if (reach === 0) return picture[place] ?? WHITE;
  let sum = 0;
  for (let down = -reach; down <= reach; down += 1) {
    for (let across = -reach; across <= reach; across += 1) {
      sum += picture[place + down * WIDTH + across] ?? WHITE;
    }
  }
  return sum / (2 * reach + 1) ** 2;
}
