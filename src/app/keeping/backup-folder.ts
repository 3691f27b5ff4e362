/**
 * The folder that a person granted for automatic backups (File System Access). One
 * file for each closed case, under a name of its own; a file that is there is never
 * written again. The browser may ask the person once more after a restart: until
 * then nothing is written, and the screen says so.
 */
import { err, fault, ok } from '../../domain';
import type { Clock, Fault, Result } from '../../domain';
import type { Settings } from '../../record';
import type { BackupFolder } from '../../ui';

/** The parts of File System Access that TypeScript does not know yet. */
interface GrantedFolder extends FileSystemDirectoryHandle {
  queryPermission(how: { mode: 'readwrite' }): Promise<PermissionState>;
  requestPermission(how: { mode: 'readwrite' }): Promise<PermissionState>;
}
interface FolderPicker {
  showDirectoryPicker?(how: { mode: 'readwrite'; id: string }): Promise<GrantedFolder>;
}

const SETTING = 'backup-folder';

interface Kept {
  readonly folder: GrantedFolder;
  readonly lastAt: number | null;
}

export class BackupFolderKeeper {
  #fault: Fault | null = null;

  constructor(
    private readonly settings: Settings,
    private readonly clock: Clock,
    private readonly host: FolderPicker = globalThis as FolderPicker,
  ) {}

  async status(): Promise<BackupFolder> {
    const kept = await this.#read();
    return {
      isPossible: this.host.showDirectoryPicker !== undefined,
      name: kept?.folder.name ?? null,
      isAllowed: (await kept?.folder.queryPermission({ mode: 'readwrite' })) === 'granted',
      lastAt: kept?.lastAt ?? null,
      fault: this.#fault,
    };
  }

  /** Asks for the known folder again, or lets the person pick one. Call it from a press of a button. */
  async choose(): Promise<Result<void, Fault>> {
    const kept = await this.#read();
    try {
      if ((await kept?.folder.requestPermission({ mode: 'readwrite' })) === 'granted') return ok(undefined); // prettier-ignore
      const folder = await this.host.showDirectoryPicker?.({ mode: 'readwrite', id: 'cuewall' });
      if (!folder) return err(fault('backup-failed', { detail: 'no File System Access' }));
      return await this.settings.write(SETTING, { folder, lastAt: null });
    } catch (reason) {
      // Closing the picker is a change of mind, not a failure.
      if (reason instanceof DOMException && reason.name === 'AbortError') return ok(undefined);
      return err(fault('backup-failed', { detail: String(reason) }));
    }
  }

  async forget(): Promise<void> {
    this.#fault = null;
    await this.settings.write(SETTING, undefined);
  }

  /** Writes a file where a folder is granted; the fault stays until the next one succeeds. */
  async save(name: string, text: string): Promise<void> {
    const kept = await this.#read();
    if (!kept) return;
    try {
      if ((await kept.folder.queryPermission({ mode: 'readwrite' })) !== 'granted') {
        this.#fault = fault('backup-not-allowed', { folder: kept.folder.name });
        return;
      }
      await writeNew(kept.folder, name, text);
      this.#fault = null;
      await this.settings.write(SETTING, { ...kept, lastAt: this.clock.wallMs() });
    } catch (reason) {
      this.#fault = fault('backup-failed', { detail: String(reason) });
    }
  }

  async #read(): Promise<Kept | null> {
    const read = await this.settings.read(SETTING);
    return read.ok ? ((read.value as Kept | undefined) ?? null) : null;
  }
}

/** Writes a file unless one of that name is there already. */
async function writeNew(
  folder: FileSystemDirectoryHandle,
  name: string,
  text: string,
): Promise<void> {
  for await (const existing of (folder as unknown as { keys(): AsyncIterable<string> }).keys()) {
    if (existing === name) return;
  }
  const file = await folder.getFileHandle(name, { create: true });
  const writable = await file.createWritable();
  await writable.write(text);
  await writable.close();
}
