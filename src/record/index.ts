/**
 * The record: an append-only list of entries for each case, on disk or in memory.
 * Owns how entries are stored, read back, upgraded and exported. Decides nothing
 * about a case and knows no procedure.
 */
export { caseToCsv, caseToJson, casesToJson, completeStored } from './export-case';
export { createIdbStore, RECORD_DATABASE } from './idb-store';
export type { IdbStore, IdbStoreOptions } from './idb-store';
export { readImport } from './import-case';
export { createBucketPlace } from './copy-place';
export type { StorageBuckets } from './copy-place';
export { coverBytes, coverText, uncoverBytes, isTextLocked, uncoverText } from './cover-text';
export type { KeyRing } from './cover';
export { createLock } from './lock';
export type { LockState, RecordLock } from './lock';
export { createMemoryStore } from './memory-store';
export type { MemoryContents } from './memory-store';
export { openRecord } from './open-record';
export type { OpenedRecord } from './open-record';
export { createSettings } from './settings';
export type { Settings } from './settings';
export { createSnapshotStore } from './snapshot-store';
export type { Snapshot, SnapshotStore } from './snapshot-store';
export type { CaseSummary, PartStart, ReadCase, RecordStore } from './record-store';
