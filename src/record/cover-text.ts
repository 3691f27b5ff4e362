/**
 * Text and bytes of other places under the record's lock, each with a key of its own that only the
 * lock's owner can open. Where no lock is set it stays as it is.
 */
import type { CaseId } from '../domain';
import {
  coverBytesAt, coverValues, makeCaseKey, openCaseKey, uncoverBytesAt, uncoverValues,
} from './cover'; // prettier-ignore
import type { CoveredValue, KeyRing } from './cover';

/** Encryption is bound to a place; all such text has one. */
const PLACE = 'text' as CaseId;

interface CoveredText {
  readonly wrapped: ArrayBuffer;
  readonly value: unknown;
}

/** What is to be kept for a text. */
export async function coverText(ring: KeyRing, text: string): Promise<unknown> {
  const key = await makeCaseKey(ring);
  if (!key?.live) return text;
  const [covered] = await coverValues(key.live, PLACE, [{ seq: 0, value: text }]);
  return { wrapped: key.wrapped, value: covered?.value } satisfies CoveredText;
}

/** The text of what was kept; null while it is locked, or where it is damaged. */
export async function uncoverText(ring: KeyRing, kept: unknown): Promise<string | null> {
  if (typeof kept === 'string') return kept;
  const { wrapped, value } = kept as CoveredText;
  const key = await openCaseKey(ring, { wrapped, live: null });
  if (key === null) return null;
  const [plain] = await uncoverValues(key, PLACE, [{ seq: 0, value }]);
  return typeof plain?.value === 'string' ? plain.value : null;
}

/** Whether it takes the lock's owner to read what was kept of a text; else what can't be read is damaged. */
export async function isTextLocked(ring: KeyRing, kept: unknown): Promise<boolean> {
  if (typeof kept === 'string') return false;
  const { wrapped } = kept as CoveredText;
  return (await openCaseKey(ring, { wrapped, live: null })) === null;
}

interface CoveredBytes {
  readonly wrapped: ArrayBuffer;
  readonly cipher: CoveredValue['cipher'];
}

/** What is to be kept for bytes. */
export async function coverBytes(
  ring: KeyRing,
  bytes: Uint8Array<ArrayBuffer>,
): Promise<Uint8Array | CoveredBytes> {
  const key = await makeCaseKey(ring);
  if (!key?.live) return bytes;
  return { wrapped: key.wrapped, cipher: await coverBytesAt(key.live, PLACE, 0, bytes) };
}

/** The bytes of what was kept; null while it is locked, or where it is damaged. */
export async function uncoverBytes(
  ring: KeyRing,
  kept: unknown,
): Promise<Uint8Array<ArrayBuffer> | null> {
  if (kept instanceof Uint8Array) return kept as Uint8Array<ArrayBuffer>;
  try {
    const { wrapped, cipher } = kept as CoveredBytes;
    const key = await openCaseKey(ring, { wrapped, live: null });
    return key && new Uint8Array(await uncoverBytesAt(key, PLACE, 0, cipher));
  } catch {
    return null;
  }
}
