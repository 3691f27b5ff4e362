/** The record as a whole, for the screen about it: room, files in and out, old cases. */
import { err, fault, faultToDeveloperText, ok } from '../../domain';
import type { CaseId, Clock, Fault, Result } from '../../domain';
import { casesToJson, completeStored, readImport } from '../../record';
import type { IdbStore, RecordLock, RecordStore } from '../../record';
import type { Offline } from '../../offline';
import { CaseLog } from '../../session';
import type { CaseSettings, SharedHost } from '../../session';
import type { ImportLine, KeepingServices } from '../../ui';
import type { BackupFolderKeeper } from './backup-folder';
import { DigestStore } from '../review/digest-store';
import { MarkStore } from '../review/mark-store';
import { pickAndSave } from './save-file';
import { listCaseLines } from '../windows';

const DAY_MS = 86_400_000;

export interface KeepingParts {
  readonly store: RecordStore;
  readonly host: SharedHost;
  readonly settings: CaseSettings;
  readonly clock: Clock;
  readonly folder: BackupFolderKeeper;
  readonly storage: StorageManager | undefined;
  /** Null where the record is not on disk: then there is nothing to lock. */
  readonly onDisk: IdbStore | null;
  readonly lock: RecordLock;
  readonly offline: Offline;
}

/** Makes the services of the screen about the record. */
export function createKeeping(parts: KeepingParts): KeepingServices {
  const { store, folder, storage, clock, lock, offline } = parts;
  return {
    lockState: () => lock.state(),
    setLock: (passphrase) => setLock(parts, passphrase),
    unlock: (passphrase) => lock.unlock(passphrase),
    lockNow: () => lock.lockNow(),
    version: () => offline.status(),
    lookForVersion: () => offline.prepare(),
    takeVersion: () =>
      isCaseOpen(parts.host)
        ? Promise.resolve(err(fault('version-during-case')))
        : offline.switchOver(),
    room: async () => {
      const { usage = null, quota = null } = (await storage?.estimate()) ?? {};
      const isPersisted = (await storage?.persisted()) ?? null;
      return { usedBytes: usage, quotaBytes: quota, isPersisted };
    },
    askToPersist: async () => (await storage?.persist()) ?? false,
    saveAll: () => saveAll(parts),
    importFiles: async (files) => {
      const lines: ImportLine[] = [];
      for (const file of files) lines.push(...(await importFile(parts, file)));
      return lines;
    },
    backupFolder: () => folder.status(),
    chooseBackupFolder: () => folder.choose(),
    forgetBackupFolder: () => folder.forget(),
    listOld: async (days) => {
      const listed = await listCaseLines(store);
      if (!listed.ok) return listed;
      const before = clock.wallMs() - days * DAY_MS;
      return ok(
        listed.value.filter(
          ({ isClosed, lastAt }) => isClosed && lastAt !== null && lastAt < before,
        ),
      );
    },
    removeCases: async (caseIds) => {
      const gone = new Set<CaseId>();
      for (const caseId of caseIds) {
        if (parts.host.current?.view.caseId === caseId) parts.host.leave();
        const removed = await store.remove(caseId, clock.wallMs());
        if (removed.ok) gone.add(caseId);
        else return removed;
      }
      // Where this fails the next look back does it, and says so where it can't either.
      await new DigestStore(lock).drop(gone).catch(() => undefined);
      return ok(gone.size);
    },
    listRemoved: () => store.listRemoved(),
  };
}

/** Whether a case runs in any window of this machine. */
export function isCaseOpen(host: Pick<SharedHost, 'current'>): boolean {
  return host.current !== null && host.current.view.status !== 'closed';
}

async function setLock(
  { lock, onDisk }: KeepingParts,
  passphrase: string,
): Promise<Result<void, Fault>> {
  const set = await lock.set(passphrase);
  if (!set.ok) return set;
  try {
    await onDisk?.coverAll();
    await new DigestStore(lock).coverAll();
    await new MarkStore(lock).coverAll();
    return ok(undefined);
  } catch (reason) {
    // The lock stands; what still lies open is encrypted at the next start.
    return err(fault('record-append-failed', { count: 'encrypted cases', seq: '', detail: String(reason) })); // prettier-ignore
  }
}

/** The values of a case for a file: what is stored, and what only memory has. */
export async function collectValues(
  { store, host }: Pick<KeepingParts, 'store' | 'host'>,
  caseId: CaseId,
): Promise<Result<readonly unknown[], Fault>> {
  const running = host.current?.view.caseId === caseId ? host.current : null;
  const stored = await store.readStored(caseId);
  if (!stored.ok && stored.error.code === 'record-locked') return stored;
  if (running) {
    const known = stored.ok ? stored.value : [];
    // Where the record has everything nothing of the case need be fetched from memory.
    if (known.length >= running.view.entryCount) return ok(known);
    const whole = await running.untilWhole();
    return whole.ok ? ok(await completeStored(known, running.entries)) : whole;
  }
  return stored;
}

async function saveAll(parts: KeepingParts): Promise<Result<boolean, Fault>> {
  const listed = await parts.store.listCases();
  if (!listed.ok) return listed;
  const cases: (readonly unknown[])[] = [];
  for (const { caseId } of listed.value) {
    const values = await collectValues(parts, caseId);
    if (!values.ok) return values;
    cases.push(values.value);
  }
  const day = new Date(parts.clock.wallMs()).toISOString().slice(0, 10);
  const saved = await pickAndSave(`cuewall-backup-${day}.json`, casesToJson(cases));
  return saved.ok ? saved : err(fault('backup-failed', { detail: saved.error }));
}

async function importFile(
  { store, settings }: KeepingParts,
  file: File,
): Promise<readonly ImportLine[]> {
  const read = await readImport(new Uint8Array(await file.arrayBuffer()));
  if (!read.ok) return [{ file: file.name, caseId: null, fault: read.error, remarks: [] }];
  const lines: ImportLine[] = [];
  for (const found of read.value) {
    const { caseId, entries, values, isSealed, isReformatted, mode } = found;
    // A case that this program can't replay would be a line in the list that leads nowhere.
    const log = CaseLog.rebuild(entries, settings);
    const imported = log.ok ? await store.importCase(caseId, values) : log;
    const why = imported.ok ? null : log.ok ? imported.error : unreadable(log.error);
    const remarks = [
      ...(isSealed ? [] : ['without seals: nobody can tell whether it was changed']),
      ...(isReformatted ? ['the text of the file was changed, the case in it was not'] : []),
      ...(mode === 'real' ? [] : [mode]),
    ];
    lines.push({ file: file.name, caseId, fault: why, remarks });
  }
  return lines;
}

function unreadable(why: Fault): Fault {
  return fault('import-unreadable', { detail: faultToDeveloperText(why) });
}
