/**
 * The files of the product, kept so that it runs without its server. Files belong to
 * a build; one build at a time is served, whichever others lie ready, and only a
 * person's word moves from one to the next. The browser's own way of replacing a
 * worker would do so by itself once all windows are closed, in the middle of a case
 * that a kicked plug has interrupted: docs/decisions/0007-offline.md.
 */

/** What a build is made of, as the server says. */
interface FileList {
  readonly build: string;
  /** Paths from the root, without the page's own address "/". */
  readonly files: readonly string[];
}

/** Which build is served, and which lies complete beside it. */
export interface FileStatus {
  readonly serving: string | null;
  readonly ready: string | null;
}

export interface FileKeeper {
  status(): Promise<FileStatus>;
  /** Fetches the server's build whole, unless it is here; the first one is served at once. Rejects where the server or the disk fails. */
  prepare(): Promise<FileStatus>;
  /** Serves the build that lies ready. The one before stays for windows that still show it. */
  switchOver(): Promise<FileStatus>;
  /** The answer to a request of a window. */
  answer(request: Request): Promise<Response>;
}

export interface FileKeeperPorts {
  readonly caches: CacheStorage;
  fetch(input: Request | string, init?: RequestInit): Promise<Response>;
}

/** Where the server lists its files; always asked for anew. */
export const FILE_LIST_PATH = '/files.json';
const PREFIX = 'cuewall-files-';
/** Holds which build is served, and which are complete. */
const NOTES = 'cuewall-notes';
const SERVING = '/serving';

/** Keeps files in the browser's caches. */
export function createFileKeeper({ caches, fetch }: FileKeeperPorts): FileKeeper {
  const readNote = async (path: string): Promise<string | null> => {
    const found = await (await caches.open(NOTES)).match(path);
    return found ? found.text() : null;
  };
  const writeNote = async (path: string, text: string): Promise<void> =>
    (await caches.open(NOTES)).put(path, new Response(text));

  async function status(): Promise<FileStatus> {
    const serving = await readNote(SERVING);
    const ready = await readNote('/ready');
    return { serving, ready: ready === serving ? null : ready };
  }

  async function readList(): Promise<FileList> {
    const response = await fetch(FILE_LIST_PATH, { cache: 'no-store' });
    if (!response.ok) throw new Error(`${FILE_LIST_PATH}: ${response.status}`);
    return (await response.json()) as FileList;
  }

  async function fill({ build, files }: FileList): Promise<void> {
    const cache = await caches.open(PREFIX + build);
    const present = new Set((await cache.keys()).map(({ url }) => new URL(url).pathname));
    for (const path of ['/', ...files]) {
      if (present.has(path)) continue;
      const response = await fetch(path, { cache: 'no-cache' });
      if (!response.ok) throw new Error(`${path}: ${response.status}`);
      await cache.put(path, response);
    }
    // A build that was replaced on the server meanwhile would be half of each.
    if ((await readList()).build !== build) {
      await caches.delete(PREFIX + build);
      throw new Error(`build ${build} was replaced while it was fetched`);
    }
  }

  return {
    status,
    prepare: async () => {
      const list = await readList();
      const before = await status();
      if (list.build === before.serving || list.build === before.ready) return before;
      await fill(list);
      await writeNote('/ready', list.build);
      if (before.serving === null) await writeNote(SERVING, list.build);
      return status();
    },
    switchOver: async () => {
      const { serving, ready } = await status();
      if (ready === null) return status();
      await writeNote(SERVING, ready);
      for (const name of await caches.keys()) {
        const isOld =
          name.startsWith(PREFIX) && ![serving, ready].includes(name.slice(PREFIX.length));
        if (isOld) await caches.delete(name);
      }
      return status();
    },
    answer: async (request) => {
      const serving = await readNote(SERVING);
      const { pathname } = new URL(request.url);
      if (request.method !== 'GET' || pathname === FILE_LIST_PATH || serving === null)
        return fetch(request);
      const path = pathname === '/index.html' ? '/' : pathname;
      const found =
        (await (await caches.open(PREFIX + serving)).match(path)) ?? (await caches.match(path));
      if (found) return found;
      try {
        return await fetch(request);
      } catch {
        // The server is gone, and the path is none of ours: that is "not found", not a broken network.
        return new Response('There is no such file.\n', {
          status: 404,
          headers: { 'Content-Type': 'text/plain; charset=utf-8' },
        });
      }
    },
  };
}
