/**
 * What the screen about the record asks of the program: room, files, old cases, the
 * lock, the version. src/app gives the real thing. Nothing here draws.
 */
import type { CaseId, CaseMode, Fault, Result } from '../domain';

/** What the browser says about its storage. */
export interface Room {
  /** Bytes; null where the browser does not say. */
  readonly usedBytes: number | null;
  readonly quotaBytes: number | null;
  /** Whether the browser has promised not to clear it by itself; null where it can't say. */
  readonly isPersisted: boolean | null;
}

/** The folder for automatic backups. */
export interface BackupFolder {
  /** Whether this browser can write to a folder at all. */
  readonly isPossible: boolean;
  readonly name: string | null;
  /** False where the person must allow it again, after a restart. */
  readonly isAllowed: boolean;
  /** Wall time of the last file, in milliseconds; null where there was none. */
  readonly lastAt: number | null;
  readonly fault: Fault | null;
}

/** What became of one case of a file. */
export interface ImportLine {
  readonly file: string;
  readonly caseId: CaseId | null;
  /** Null where it was taken in. */
  readonly fault: Fault | null;
  /** What should be known about a case that was taken in. */
  readonly remarks: readonly string[];
}

/** One case past an age. */
export interface OldCase {
  readonly caseId: CaseId;
  readonly openedAt: number | null;
  readonly title: string | null;
  readonly mode: CaseMode | null;
}

/** What stays of a case that was removed. */
export interface RemovedLine {
  readonly caseId: CaseId;
  readonly openedAt: number | null;
  readonly removedAt: number;
  readonly entryCount: number;
}

/** `none` where no lock is set. */
export type LockState = 'none' | 'locked' | 'unlocked';

/** Which build is kept and served here, and which lies ready beside it. */
export interface VersionStatus {
  readonly serving: string | null;
  readonly ready: string | null;
}

export interface KeepingServices {
  lockState(): Promise<LockState>;
  /** Sets the lock and encrypts what lies open. */
  setLock(passphrase: string): Promise<Result<void, Fault>>;
  unlock(passphrase: string): Promise<Result<void, Fault>>;
  lockNow(): void;
  version(): Promise<Result<VersionStatus, Fault>>;
  lookForVersion(): Promise<Result<VersionStatus, Fault>>;
  /** Takes the build that lies ready, from the next load on; refused while a case is open. */
  takeVersion(): Promise<Result<VersionStatus, Fault>>;
  room(): Promise<Room>;
  /** Asks the browser to keep the storage; whether it promised. */
  askToPersist(): Promise<boolean>;
  /** Saves every case in one file that the person picks; false where they changed their mind. */
  saveAll(): Promise<Result<boolean, Fault>>;
  importFiles(files: readonly File[]): Promise<readonly ImportLine[]>;
  backupFolder(): Promise<BackupFolder>;
  /** Lets the person pick, or allow again, the folder. */
  chooseBackupFolder(): Promise<Result<void, Fault>>;
  forgetBackupFolder(): Promise<void>;
  /** Closed cases whose last entry is older than so many days. */
  listOld(days: number): Promise<Result<readonly OldCase[], Fault>>;
  /** Takes cases out for good; stops at the first fault. */
  removeCases(caseIds: readonly CaseId[]): Promise<Result<number, Fault>>;
  listRemoved(): Promise<Result<readonly RemovedLine[], Fault>>;
}
