/**
 * Text of other places under the record's lock, each with a key of its own that only the
 * lock's owner can open. Where no lock is set it stays as it is.
 */
import type { CaseId } from '../domain';
import { coverValues, makeCaseKey, openCaseKey, uncoverValues } from './cover';
import type { KeyRing } from './cover';

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
