/**
 * The lock on the record: a passphrase that opens the private key with which the keys
 * of all cases can be opened. Argon2id (RFC 9106) by hash-wasm turns the passphrase
 * into a key, AES-GCM wraps the private key, RSA-OAEP wraps the keys of cases. A lost
 * passphrase is a lost record: there is no other way in.
 */
import { argon2id } from 'hash-wasm';
import { err, fault, ok } from '../domain';
import type { Clock, Fault, Result } from '../domain';
import type { KeyRing } from './cover';
import type { Settings } from './settings';

/** `none` where no lock is set. */
export type LockState = 'none' | 'locked' | 'unlocked';

export interface RecordLock extends KeyRing {
  state(): Promise<LockState>;
  /** Sets a lock where there is none. Faults: `lock-weak`, `lock-set`, `record-unavailable`. */
  set(passphrase: string): Promise<Result<void, Fault>>;
  /** Faults: `lock-wrong`, `lock-wait` (too soon after wrong ones), `record-unavailable`. */
  unlock(passphrase: string): Promise<Result<void, Fault>>;
  lockNow(): void;
  /** What opens the lock in another thread of this window, which can't be read out; null while locked. */
  share(): CryptoKey | null;
  /** Opens or closes the lock here as it is in the window that shared it. */
  adopt(shared: CryptoKey | null): void;
}

/** How much work a guess costs. */
export interface Argon2Cost {
  readonly memoryKiB: number;
  readonly passes: number;
  readonly lanes: number;
}

/** RFC 9106, section 4, second recommended option: 64 MiB, three passes, four lanes. */
const ARGON2: Argon2Cost = { memoryKiB: 65_536, passes: 3, lanes: 4 };
/** Shortest passphrase: NIST SP 800-63B-4 asks for 15 characters where it is the only factor. */
const SHORTEST_PASSPHRASE = 15;
/** Wrong passphrases that cost nothing; each further one doubles the wait. */
const FREE_TRIES = 3;
const FIRST_WAIT_MS = 2_000;
const LONGEST_WAIT_MS = 15 * 60_000;
const SETTING = 'lock';

const { subtle } = globalThis.crypto;
const RSA = { name: 'RSA-OAEP', hash: 'SHA-256' } as const;
/** NIST SP 800-57 part 1, table 2: 3072 bits for 128 bits of strength. */
const RSA_KEY = { ...RSA, modulusLength: 3072, publicExponent: new Uint8Array([1, 0, 1]) } as const;

interface KeptLock {
  readonly kdf: Argon2Cost & { readonly salt: Uint8Array<ArrayBuffer> };
  readonly publicKey: ArrayBuffer;
  readonly privateKey: { readonly iv: Uint8Array<ArrayBuffer>; readonly data: ArrayBuffer };
  readonly wrong: { readonly count: number; readonly lastAt: number };
}

/** The lock of this machine; whether it is open is known to this window only. */
export function createLock(
  settings: Settings,
  clock: Clock,
  cost: Argon2Cost = ARGON2,
): RecordLock {
  let privateKey: CryptoKey | null = null;

  async function readKept(): Promise<Result<KeptLock | null, Fault>> {
    const read = await settings.read(SETTING);
    return read.ok ? ok((read.value as KeptLock | undefined) ?? null) : read;
  }

  return {
    state: async () => {
      const kept = await readKept();
      if (kept.ok && kept.value === null) return 'none';
      return privateKey === null ? 'locked' : 'unlocked';
    },
    set: async (passphrase) => {
      if ([...passphrase].length < SHORTEST_PASSPHRASE) {
        return err(fault('lock-weak', { shortest: String(SHORTEST_PASSPHRASE) }));
      }
      const kept = await readKept();
      if (!kept.ok) return kept;
      if (kept.value !== null) return err(fault('lock-set'));
      const made = await makeLock(passphrase, cost);
      const written = await settings.write(SETTING, made.kept);
      if (written.ok) privateKey = made.privateKey;
      return written;
    },
    unlock: async (passphrase) => {
      const kept = await readKept();
      if (!kept.ok) return kept;
      if (kept.value === null) return ok(undefined);
      const { wrong } = kept.value;
      const leftMs = wrong.lastAt + waitAfter(wrong.count) - clock.wallMs();
      // A clock that was set back must not lock anybody out for longer than the wait.
      if (leftMs > 0 && leftMs <= LONGEST_WAIT_MS) {
        return err(fault('lock-wait', { seconds: String(Math.ceil(leftMs / 1000)) }));
      }
      // Counted before it is tried: closing the window in between wins nothing.
      const counted = { ...kept.value, wrong: { count: wrong.count + 1, lastAt: clock.wallMs() } };
      const written = await settings.write(SETTING, counted);
      if (!written.ok) return written;
      const opened = await openPrivateKey(kept.value, passphrase);
      if (opened === null) return err(fault('lock-wrong'));
      privateKey = opened;
      return settings.write(SETTING, { ...kept.value, wrong: { count: 0, lastAt: 0 } });
    },
    lockNow: () => {
      privateKey = null;
    },
    share: () => privateKey,
    adopt: (shared) => {
      privateKey = shared;
    },
    wrap: async (raw) => {
      const kept = await readKept();
      if (!kept.ok) throw new Error('the lock can not be read');
      if (kept.value === null) return null;
      const key = await subtle.importKey('spki', kept.value.publicKey, RSA, false, ['encrypt']);
      return subtle.encrypt(RSA, key, raw);
    },
    unwrap: async (wrapped) =>
      privateKey === null ? null : subtle.decrypt(RSA, privateKey, wrapped),
  };
}

function waitAfter(count: number): number {
  if (count < FREE_TRIES) return 0;
  return Math.min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** (count - FREE_TRIES));
}

async function makeLock(
  passphrase: string,
  cost: Argon2Cost,
): Promise<{ readonly kept: KeptLock; readonly privateKey: CryptoKey }> {
  const pair = await subtle.generateKey(RSA_KEY, true, ['encrypt', 'decrypt']);
  const salt = globalThis.crypto.getRandomValues(new Uint8Array(16));
  const iv = globalThis.crypto.getRandomValues(new Uint8Array(12));
  const kdf = { salt, ...cost };
  const exported = await subtle.exportKey('pkcs8', pair.privateKey);
  const data = await subtle.encrypt(
    { name: 'AES-GCM', iv },
    await deriveKey(passphrase, kdf),
    exported,
  );
  const kept: KeptLock = {
    kdf,
    publicKey: await subtle.exportKey('spki', pair.publicKey),
    privateKey: { iv, data },
    wrong: { count: 0, lastAt: 0 },
  };
  return { kept, privateKey: await importPrivateKey(exported) };
}

/** Null where the passphrase is not the one. */
async function openPrivateKey(kept: KeptLock, passphrase: string): Promise<CryptoKey | null> {
  const key = await deriveKey(passphrase, kept.kdf);
  const { iv, data } = kept.privateKey;
  try {
    return await importPrivateKey(await subtle.decrypt({ name: 'AES-GCM', iv }, key, data));
  } catch (reason) {
    if (reason instanceof Error && reason.name === 'OperationError') return null;
    throw reason;
  }
}

function importPrivateKey(pkcs8: ArrayBuffer): Promise<CryptoKey> {
  return subtle.importKey('pkcs8', pkcs8, RSA, false, ['decrypt']);
}

async function deriveKey(
  passphrase: string,
  { salt, memoryKiB, passes, lanes }: KeptLock['kdf'],
): Promise<CryptoKey> {
  const raw = await argon2id({
    // The same words typed on another keyboard are the same passphrase (NIST SP 800-63B-4, 3.1.1.2).
    password: passphrase.normalize('NFC'),
    salt,
    memorySize: memoryKiB,
    iterations: passes,
    parallelism: lanes,
    hashLength: 32,
    outputType: 'binary',
  });
  return subtle.importKey('raw', new Uint8Array(raw), 'AES-GCM', false, ['encrypt', 'decrypt']);
}
