/**
 * Who reads a picture. The platform's reader is a double at the edge, in the shape of the
 * W3C's Shape Detection API draft (format names from its list); what becomes of its texts is
 * read by the real label reader. Numbers: GS1's own example product.
 */
import { describe, expect, it, vi } from 'vitest';
import { createReader } from '../../src/app/labels/label-reader';
import type { PlatformDetectors } from '../../src/app/labels/label-reader';
import { readScan } from '../../src/labels';

const ALL = ['code_128', 'code_39', 'data_matrix', 'ean_13', 'ean_8', 'pdf417', 'qr_code'];
const PICTURE = {} as ImageData;
const SETTINGS = { prefix: '', suffix: '', separator: '', thisYear: 2026 };

type Found = readonly { readonly rawValue: string; readonly format: string }[];

function platform(formats: () => Promise<readonly string[]>, detect: () => Promise<Found>) {
  return class {
    static getSupportedFormats = formats;
    detect = detect;
  } as unknown as PlatformDetectors;
}

const zxing = () => vi.fn(() => Promise.resolve([']d20109520123456788']));
const offers = (formats: readonly string[]) => () => Promise.resolve(formats);

describe('who reads a picture', () => {
  it('[LAB21] is the platform where it reads every symbol; its texts are labels like a scanner’s', async () => {
    const found: Found = [
      { rawValue: '\u001d010952012345678810LOT1\u001d217', format: 'data_matrix' },
      { rawValue: '9520123456788', format: 'ean_13' },
    ];
    const own = zxing();
    const read = await createReader(
      platform(offers(ALL), () => Promise.resolve(found)),
      own,
    );
    const { texts, reader } = await read(PICTURE);
    expect([reader, own.mock.calls.length]).toEqual(['platform', 0]);
    const labels = texts.map((text) => readScan(text, SETTINGS));
    expect(labels[0]).toMatchObject({ ok: true, value: { product: '09520123456788', lot: 'LOT1', serial: '7' } }); // prettier-ignore
    expect(labels[1]).toMatchObject({ ok: true, value: { product: '09520123456788' } });
  });

  it.each([
    ['there is none', undefined],
    ['it lacks DataMatrix', platform(offers(ALL.filter((one) => one !== 'data_matrix')), () => Promise.resolve([]))],
    ['it offers nothing', platform(offers([]), () => Promise.resolve([]))],
    ['it can’t be asked', platform(() => Promise.reject(new Error('service')), () => Promise.resolve([]))],
  ])('[LAB21] is ZXing where %s', async (_, detectors) => {
    const read = await createReader(detectors, zxing());
    expect(await read(PICTURE)).toEqual({ texts: [']d20109520123456788'], reader: 'zxing' });
  }); // prettier-ignore

  it('[LAB21] is ZXing from the picture on at which the platform failed', async () => {
    const detect = vi.fn(() => Promise.reject(new Error('service')));
    const read = await createReader(platform(offers(ALL), detect), zxing());
    expect((await read(PICTURE)).reader).toBe('zxing');
    expect((await read(PICTURE)).reader).toBe('zxing');
    expect(detect).toHaveBeenCalledTimes(1);
  });

  it('[LAB21] lets a fault of ZXing be told: then nobody reads', async () => {
    const read = await createReader(undefined, () => Promise.reject(new Error('no WebAssembly')));
    await expect(read(PICTURE)).rejects.toThrow('no WebAssembly');
  });
});
