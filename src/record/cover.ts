/**
 * Entries under a lock: each case has an AES-256-GCM key of its own, and every value
 * is encrypted with it before it is stored, bound to its place. The case's key lies
 * beside it wrapped for the lock's owner, and, only while the case is open, in a form
 * that this browser can use without the passphrase, so that a kicked plug does not
 * stop an operation. WebCrypto does the work; nothing here is our own cryptography.
 */
import type { CaseId } from '../domain';
import type { StoredValue } from './read-case';

/** The keys of one case, as they are stored. */
export interface StoredKey {
  /** The case's key, encrypted with the lock's public key (RSA-OAEP). */
  readonly wrapped: ArrayBuffer;
  /** The same key, not extractable; null once the case is closed and put away. */
  readonly live: CryptoKey | null;
}

/** What the store asks of the lock. */
export interface KeyRing {
  /** Encrypts the key of a new case for the owner of the lock; null where no lock is set. */
  wrap(raw: ArrayBuffer): Promise<ArrayBuffer | null>;
  /** Decrypts the key of a case; null while locked. */
  unwrap(wrapped: ArrayBuffer): Promise<ArrayBuffer | null>;
}

/** A value under the lock. */
export interface CoveredValue {
  readonly caseId: CaseId;
  readonly seq: number;
  readonly cipher: { readonly iv: Uint8Array<ArrayBuffer>; readonly data: ArrayBuffer };
}

const { subtle } = globalThis.crypto;
const ALGORITHM = { name: 'AES-GCM', length: 256 } as const;
/** Bytes of the number used once (NIST SP 800-38D, section 8.2). */
const IV_BYTES = 12;

/** Makes the key of a new case; null where no lock is set. */
export async function makeCaseKey(ring: KeyRing): Promise<StoredKey | null> {
  const raw = globalThis.crypto.getRandomValues(new Uint8Array(32)).buffer;
  const wrapped = await ring.wrap(raw);
  return wrapped === null ? null : { wrapped, live: await importKey(raw) };
}

/** The key to read or write a case with: the live one, else what the lock gives; null while locked. */
export async function openCaseKey(ring: KeyRing, key: StoredKey): Promise<CryptoKey | null> {
  if (key.live !== null) return key.live;
  const raw = await ring.unwrap(key.wrapped);
  return raw === null ? null : importKey(raw);
}

/** Encrypts values, each bound to its case and position. */
export function coverValues(
  key: CryptoKey,
  caseId: CaseId,
  stored: readonly StoredValue[],
): Promise<readonly StoredValue[]> {
  return Promise.all(
    stored.map(async ({ seq, value }) => {
      const plain = new TextEncoder().encode(JSON.stringify(value));
      const cipher = await coverBytesAt(key, caseId, seq, plain);
      return { seq, value: { caseId, seq, cipher } satisfies CoveredValue };
    }),
  );
}

/** Encrypts bytes, bound to a case and position. */
export async function coverBytesAt(
  key: CryptoKey,
  caseId: CaseId,
  seq: number,
  plain: Uint8Array<ArrayBuffer>,
): Promise<CoveredValue['cipher']> {
  const iv = globalThis.crypto.getRandomValues(new Uint8Array(IV_BYTES));
  return { iv, data: await subtle.encrypt(parameters(iv, caseId, seq), key, plain) };
}

/** Decrypts bytes; throws where they were changed, moved or torn. */
export function uncoverBytesAt(
  key: CryptoKey,
  caseId: CaseId,
  seq: number,
  { iv, data }: CoveredValue['cipher'],
): Promise<ArrayBuffer> {
  return subtle.decrypt(parameters(iv, caseId, seq), key, data);
}

/** Decrypts values; one that does not decrypt at its place comes back as nothing, for the reader to report. */
export function uncoverValues(
  key: CryptoKey,
  caseId: CaseId,
  stored: readonly StoredValue[],
): Promise<readonly StoredValue[]> {
  return Promise.all(
    stored.map(async ({ seq, value }) => {
      if (!isCovered(value)) return { seq, value };
      try {
        const plain = await uncoverBytesAt(key, caseId, seq, value.cipher);
        return { seq, value: JSON.parse(new TextDecoder().decode(plain)) as unknown };
      } catch {
        // Changed, moved or torn: not an entry.
        return { seq, value: undefined };
      }
    }),
  );
}

function isCovered(value: unknown): value is CoveredValue {
  return typeof value === 'object' && value !== null && 'cipher' in value;
}

function parameters(iv: Uint8Array<ArrayBuffer>, caseId: CaseId, seq: number): AesGcmParams {
  return { name: 'AES-GCM', iv, additionalData: new TextEncoder().encode(`${caseId}/${seq}`) };
}

function importKey(raw: ArrayBuffer): Promise<CryptoKey> {
  return subtle.importKey('raw', raw, ALGORITHM, false, ['encrypt', 'decrypt']);
}
