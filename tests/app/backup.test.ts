/** Automatic backups, with a folder that is moved by hand. */
import 'fake-indexeddb/auto';
import { IDBFactory as FakeFactory } from 'fake-indexeddb';
import { describe, expect, test } from 'vitest';
import { backUpClosedCases } from '../../src/app/keeping/back-up-closed';
import { BackupFolderKeeper } from '../../src/app/keeping/backup-folder';
import { pickAndSave } from '../../src/app/keeping/save-file';
import { createSettings } from '../../src/record';
import type { Settings } from '../../src/record';
import { HandClock } from '../support/hand-clock';
import { openSampleCase } from '../support/sample-case';

/** A folder with the parts of File System Access that are used. */
function createFolder() {
  const files = new Map<string, string>();
  const folder = {
    name: 'cases',
    permission: 'granted' as PermissionState,
    queryPermission: () => Promise.resolve(folder.permission),
    requestPermission: () => Promise.resolve(folder.permission),
    keys: async function* () {
      yield* files.keys();
    },
    getFileHandle: (name: string) => {
      files.set(name, '');
      return Promise.resolve({
        createWritable: () =>
          Promise.resolve({
            write: (text: string) => Promise.resolve(files.set(name, text)),
            close: () => Promise.resolve(),
          }),
      });
    },
  };
  return { folder, files };
}

/** A handle can be cloned in a browser, not in Node: kept in memory here. */
function createMemorySettings(): Settings {
  const kept = new Map<string, unknown>();
  return {
    read: (name) => Promise.resolve({ ok: true, value: kept.get(name) }),
    write: (name, value) => {
      kept.set(name, value);
      return Promise.resolve({ ok: true, value: undefined });
    },
  };
}

describe('the granted folder', () => {
  test('[REC27] gets each file once; one that is there is left as it is', async () => {
    const { folder, files } = createFolder();
    const keeper = new BackupFolderKeeper(createMemorySettings(), new HandClock(), {
      showDirectoryPicker: () => Promise.resolve(folder as never),
    });
    expect((await keeper.status()).name).toBeNull();
    await keeper.choose();
    await keeper.save('case-1.json', 'first');
    await keeper.save('case-1.json', 'second');
    expect([...files]).toEqual([['case-1.json', 'first']]);
    expect(await keeper.status()).toMatchObject({ name: 'cases', isAllowed: true, fault: null });
  });

  test('[REC27] that must be asked for again gets nothing, and the screen says so', async () => {
    const { folder, files } = createFolder();
    const keeper = new BackupFolderKeeper(createMemorySettings(), new HandClock(), {
      showDirectoryPicker: () => Promise.resolve(folder as never),
    });
    await keeper.choose();
    folder.permission = 'prompt';
    await keeper.save('case-1.json', 'first');
    expect(files.size).toBe(0);
    expect((await keeper.status()).fault?.code).toBe('backup-not-allowed');
    folder.permission = 'granted';
    await keeper.save('case-1.json', 'first');
    expect((await keeper.status()).fault).toBeNull();
  });

  test('[REC27] a picker that is closed is no fault, a disk that fails is', async () => {
    const closed = new BackupFolderKeeper(createMemorySettings(), new HandClock(), {
      showDirectoryPicker: () => Promise.reject(new DOMException('closed', 'AbortError')),
    });
    expect(await closed.choose()).toEqual({ ok: true, value: undefined });
    const { folder } = createFolder();
    folder.getFileHandle = () => Promise.reject(new DOMException('full', 'QuotaExceededError'));
    const failing = new BackupFolderKeeper(createMemorySettings(), new HandClock(), {
      showDirectoryPicker: () => Promise.resolve(folder as never),
    });
    await failing.choose();
    await failing.save('case-1.json', 'first');
    expect((await failing.status()).fault?.code).toBe('backup-failed');
  });
});

test('[REC27] a case is handed on once, when it is closed and durable, by the window that writes', async () => {
  const { session } = await openSampleCase();
  for (const isWriter of [false, true]) {
    const saved: string[] = [];
    const host = { current: session, isWriter, watch: () => () => undefined };
    backUpClosedCases(host, (caseId) => {
      saved.push(caseId);
      return Promise.resolve();
    });
    await session.submit({ type: 'clock.hold', reason: 'Imaging' }, 'desk');
    await session.submit({ type: 'clock.resume' }, 'desk');
    expect(saved).toEqual([]);
    if (isWriter) await session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
    expect(saved).toEqual(isWriter ? [session.view.caseId] : []);
  }
});

test('[REC29] settings are kept beside the record, and can be taken out', async () => {
  const indexedDB = new FakeFactory();
  const settings = createSettings(indexedDB);
  expect(await settings.read('lock')).toEqual({ ok: true, value: undefined });
  await settings.write('lock', { salt: new Uint8Array([1, 2]) });
  const restarted = createSettings(indexedDB);
  expect(await restarted.read('lock')).toEqual({
    ok: true,
    value: { salt: new Uint8Array([1, 2]) },
  });
  await restarted.write('lock', undefined);
  expect(await settings.read('lock')).toEqual({ ok: true, value: undefined });
});

describe('a file that a person picks a place for', () => {
  test('[REC25] has the whole text once it is closed', async () => {
    const { folder, files } = createFolder();
    const host = {
      showSaveFilePicker: ({ suggestedName }: { suggestedName: string }) =>
        folder.getFileHandle(suggestedName) as unknown as Promise<FileSystemFileHandle>,
    };
    expect(await pickAndSave('all.json', '{"cases":[]}', host)).toEqual({ ok: true, value: true });
    expect([...files]).toEqual([['all.json', '{"cases":[]}']]);
  });

  // AbortError is what the browser gives where the picker is closed (File System Access, "show save file picker").
  test.each([
    ['a picker that is closed is a change of mind', 'AbortError', { ok: true, value: false }],
    ['a disk that fails is a reason', 'QuotaExceededError', { ok: false, error: 'QuotaExceededError: no' }],
  ])('[REC25] %s', async (_, name, outcome) => {
    const host = { showSaveFilePicker: () => Promise.reject(new DOMException('no', name)) };
    expect(await pickAndSave('all.json', '{}', host)).toEqual(outcome);
  });
}); // prettier-ignore
