/** Hands files to the person at the screen: to a place that they pick, or as a download. */
import { err, ok } from '../../domain';
import type { Result } from '../../domain';

/** The part of File System Access that TypeScript does not know yet. */
interface FilePicker {
  showSaveFilePicker?(how: { suggestedName: string }): Promise<FileSystemFileHandle>;
}

/** Without this mark spreadsheets read a CSV file in the machine's old code page, and umlauts break. */
const BYTE_ORDER_MARK = '\uFEFF';

/** Saves a text as a download, in UTF-8; a CSV file says so by its first character. */
export function saveFile(name: string, type: string, text: string): void {
  const marked = type === 'text/csv' ? BYTE_ORDER_MARK + text : text;
  const url = URL.createObjectURL(new Blob([marked], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  URL.revokeObjectURL(url);
}

/**
 * Lets the person pick where a JSON text goes; as a download where the browser has no
 * picker. False where they changed their mind. The error is the browser's reason.
 */
export async function pickAndSave(
  suggestedName: string,
  text: string,
  host: FilePicker = globalThis as FilePicker,
): Promise<Result<boolean, string>> {
  if (host.showSaveFilePicker === undefined) {
    saveFile(suggestedName, 'application/json', text);
    return ok(true);
  }
  try {
    const handle = await host.showSaveFilePicker({ suggestedName });
    const writable = await handle.createWritable();
    await writable.write(text);
    await writable.close();
    return ok(true);
  } catch (reason) {
    if (reason instanceof DOMException && reason.name === 'AbortError') return ok(false);
    return err(String(reason));
  }
}
