/** The pieces that digests are kept in: what they are called, and what can be read of one. */
import { isTextLocked, uncoverText } from '../../record';
import type { KeyRing } from '../../record';
import type { CaseDigest } from '../../review';
import type { PartsAside } from '../../ui';

const ASIDE = 'aside-';

/** A name that no other window gives; it says how many cases the piece is of. */
export function makePieceName(caseCount: number): string {
  return `piece-${crypto.randomUUID()}-of-${caseCount}`;
}

/** The name of a damaged piece that was set aside. */
export function toAsideName(name: string): string {
  return `${ASIDE}${name}`;
}

export function isAside(name: string): boolean {
  return name.startsWith(ASIDE);
}

/** How much lies under such names; null where nothing does. The cases are not known where a name is of an earlier program. */
export function countParts(names: readonly string[]): PartsAside | null {
  const counts = names.map((name) => Number(/-of-(\d+)$/.exec(name)?.[1] ?? NaN));
  const cases = counts.reduce((sum, count) => sum + count, 0);
  return names.length === 0
    ? null
    : { parts: names.length, cases: Number.isNaN(cases) ? null : cases };
}

/** The digests of a piece, or why they can't be read. Never rejects. */
export async function readPiece(
  lock: KeyRing,
  piece: unknown,
): Promise<readonly CaseDigest[] | 'locked' | 'damaged'> {
  try {
    const text = await uncoverText(lock, piece);
    if (text === null) return (await isTextLocked(lock, piece)) ? 'locked' : 'damaged';
    const read: unknown = JSON.parse(text);
    return Array.isArray(read) && read.every(isDigest) ? read : 'damaged';
  } catch {
    return 'damaged';
  }
}

function isDigest(value: unknown): value is CaseDigest {
  return typeof value === 'object' && value !== null && 'caseId' in value && 'phases' in value;
}

/** Of two digests of one case: made by a later program, else of a record that has come further. */
export function isFuller(digest: CaseDigest, than: CaseDigest): boolean {
  return digest.version === than.version
    ? digest.entryCount > than.entryCount
    : digest.version > than.version;
}
