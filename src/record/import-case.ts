/**
 * Files taken in. A file is believed only where its frame, every entry and the whole
 * chain agree; anything else is refused whole, with the reason. Nothing is written
 * here: the store refuses a case that it has.
 */
import * as v from 'valibot';
import { err, fault, ok } from '../domain';
import type { CaseId, CaseMode, Entry, Fault, Result } from '../domain';
import { checkChain } from './check-chain';
import { BACKUP_FORMAT, CASE_FORMAT, FRAME_VERSION, caseToJson, casesToJson, findMode } from './export-case'; // prettier-ignore
import { toReadCase } from './read-case';
import { loadHasher } from './seal';
import type { Hasher, SealedEntry } from './seal';

/** One case of a file that has passed every check. */
export interface ImportedCase {
  readonly caseId: CaseId;
  readonly mode: CaseMode | 'unknown';
  readonly entries: readonly Entry[];
  /** As they are stored. */
  readonly values: readonly SealedEntry[];
  /** False for a file of the first version, which has no seals: nobody can tell whether it was changed. */
  readonly isSealed: boolean;
  /** True where the text of the file is not as it was saved, though everything in it is. */
  readonly isReformatted: boolean;
}

const CaseFrame = v.strictObject({
  format: v.literal(CASE_FORMAT),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  mode: v.string(),
  count: v.optional(v.number()),
  hash: v.optional(v.nullable(v.string())),
  entries: v.pipe(v.array(v.looseObject({ caseId: v.string() })), v.minLength(1)),
});
const BackupFrame = v.strictObject({
  format: v.literal(BACKUP_FORMAT),
  version: v.literal(FRAME_VERSION),
  cases: v.array(CaseFrame),
});

/** The cases in a file. Faults: `import-unreadable`, `import-altered`, `import-too-new`. */
export async function readImport(
  bytes: Uint8Array,
): Promise<Result<readonly ImportedCase[], Fault>> {
  const parsed = parse(bytes);
  if (!parsed.ok) return parsed;
  const { value, text } = parsed.value;
  const version: unknown = isObject(value) ? Reflect.get(value, 'version') : null;
  if (isOurs(value) && typeof version === 'number' && version > FRAME_VERSION) {
    return err(
      fault('import-too-new', { received: String(version), expected: String(FRAME_VERSION) }),
    );
  }
  const framed = v.safeParse(v.union([CaseFrame, BackupFrame]), value);
  if (!framed.success) {
    const code = isOurs(value) ? 'import-altered' : 'import-unreadable';
    return err(fault(code, { detail: framed.issues[0].message }));
  }
  const frame = framed.output;
  const frames = 'cases' in frame ? frame.cases : [frame];
  const hasher = await loadHasher();
  const cases: ImportedCase[] = [];
  for (const each of frames) {
    const checked = checkFrame(hasher, each);
    if (!checked.ok) return checked;
    cases.push(checked.value);
  }
  const values = cases.map((it) => it.values);
  const asSaved = 'cases' in frame ? casesToJson(values) : caseToJson(values[0] ?? []);
  const isReformatted = frames.some((it) => it.version === FRAME_VERSION) && asSaved !== text;
  return ok(cases.map((it) => ({ ...it, isReformatted })));
}

function checkFrame(
  hasher: Hasher,
  frame: v.InferOutput<typeof CaseFrame>,
): Result<ImportedCase, Fault> {
  const altered = (detail: string): Result<never, Fault> =>
    err(fault('import-altered', { detail }));
  const stored = frame.entries.map((value, seq) => ({ seq, value }));
  const caseId = (frame.entries[0]?.caseId ?? '') as CaseId;
  const { entries, problem } = toReadCase(caseId, stored);
  if (problem?.code === 'record-too-new') return err(fault('import-too-new', problem.params));
  if (problem !== null) return altered(`entry ${problem.params['seq'] ?? ''}: ${problem.params['detail'] ?? ''}`); // prettier-ignore
  if (frame.mode !== findMode(entries[0])) return altered(`mode "${frame.mode}"`);
  const seal = checkChain(hasher, stored);
  const [broken] = seal.brokenAt;
  if (broken !== undefined) return altered(`the chain does not hold at entry ${broken}`);
  const isSealed = seal.sealedFrom === 0;
  if (frame.version === 1 ? seal.sealedFrom !== entries.length : !hasEnd(frame, seal.hash)) {
    return altered('the end is not the one that the file names');
  }
  const values = frame.entries as unknown as readonly SealedEntry[];
  return ok({
    caseId,
    mode: findMode(entries[0]),
    entries,
    values,
    isSealed,
    isReformatted: false,
  });
}

function hasEnd(frame: v.InferOutput<typeof CaseFrame>, hash: string | null): boolean {
  const last = frame.entries.at(-1);
  const own = last?.['hash'] ?? null;
  // A case that was never sealed up to its end names no hash.
  return (
    frame.count === frame.entries.length && frame.hash === own && (own === null || own === hash)
  );
}

function parse(
  bytes: Uint8Array,
): Result<{ readonly value: unknown; readonly text: string }, Fault> {
  try {
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
    return ok({ value: JSON.parse(text) as unknown, text });
  } catch (reason) {
    return err(fault('import-unreadable', { detail: String(reason) }));
  }
}

function isOurs(value: unknown): boolean {
  const format: unknown = isObject(value) ? Reflect.get(value, 'format') : null;
  return format === CASE_FORMAT || format === BACKUP_FORMAT;
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}
