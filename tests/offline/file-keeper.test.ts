/** The kept files, with caches and a server that are moved by hand. */
import { describe, expect, test } from 'vitest';
import { createFileKeeper } from '../../src/offline/file-keeper';

const ORIGIN = 'http://localhost';

/** A server whose build can be changed and that can go away. */
function createServer() {
  const server = {
    build: 'one',
    files: ['/app.js', '/model.bin'],
    isGone: false,
    asked: [] as string[],
    afterFile: (): void => undefined,
    fetch: (input: Request | string): Promise<Response> => {
      const { pathname } = new URL(typeof input === 'string' ? input : input.url, ORIGIN);
      server.asked.push(pathname);
      if (server.isGone) return Promise.reject(new TypeError('Failed to fetch'));
      if (pathname === '/files.json') {
        return Promise.resolve(Response.json({ build: server.build, files: server.files }));
      }
      const isThere = pathname === '/' || server.files.includes(pathname);
      const answer = new Response(`${pathname} of ${server.build}`, {
        status: isThere ? 200 : 404,
      });
      server.afterFile();
      return Promise.resolve(answer);
    },
  };
  return server;
}

/** Cache Storage as far as it is used (Service Workers, "Cache Objects"). */
function createCaches() {
  const all = new Map<string, Map<string, Response>>();
  const pathOf = (key: Request | string): string =>
    new URL(typeof key === 'string' ? key : key.url, ORIGIN).pathname;
  const open = (name: string) => {
    const entries = all.get(name) ?? new Map<string, Response>();
    all.set(name, entries);
    return Promise.resolve({
      match: (key: string) => Promise.resolve(entries.get(pathOf(key))?.clone()),
      put: (key: string, response: Response) => {
        entries.set(pathOf(key), response);
        return Promise.resolve();
      },
      keys: () => Promise.resolve([...entries.keys()].map((path) => new Request(ORIGIN + path))),
    });
  };
  const caches = {
    open,
    keys: () => Promise.resolve([...all.keys()]),
    delete: (name: string) => Promise.resolve(all.delete(name)),
    match: (key: string) => {
      const found = [...all.values()].map((entries) => entries.get(pathOf(key)));
      return Promise.resolve(found.find((it) => it !== undefined)?.clone());
    },
  };
  return { all, caches: caches as unknown as CacheStorage };
}

function setUp() {
  const server = createServer();
  const { all, caches } = createCaches();
  const keeper = createFileKeeper({ caches, fetch: server.fetch });
  const ask = async (path: string): Promise<string> => {
    const response = await keeper.answer(new Request(ORIGIN + path));
    return `${response.status} ${await response.text()}`;
  };
  return { server, all, keeper, ask };
}

describe('kept files', () => {
  test('[OFF1] are served without the server after one visit, models included', async () => {
    const { server, keeper, ask } = setUp();
    expect(await keeper.prepare()).toEqual({ serving: 'one', ready: null });
    server.isGone = true;
    expect(await ask('/')).toBe('200 / of one');
    expect(await ask('/index.html')).toBe('200 / of one');
    expect(await ask('/model.bin?x=1')).toBe('200 /model.bin of one');
  });

  test('[OFF2] are all there is: any other path is a real 404, with and without the server', async () => {
    const { server, keeper, ask } = setUp();
    await keeper.prepare();
    expect((await ask('/nothing')).slice(0, 3)).toBe('404');
    server.isGone = true;
    expect(await ask('/nothing')).toBe('404 There is no such file.\n');
  });

  test('[OFF3] stay those of the old build until a person agrees, whatever lies ready', async () => {
    const { server, keeper, ask } = setUp();
    await keeper.prepare();
    server.build = 'two';
    expect(await keeper.prepare()).toEqual({ serving: 'one', ready: 'two' });
    expect(await ask('/app.js')).toBe('200 /app.js of one');
    expect(await keeper.switchOver()).toEqual({ serving: 'two', ready: null });
    server.isGone = true;
    expect(await ask('/app.js')).toBe('200 /app.js of two');
  });

  test('[OFF3] of the build before stay for windows that still show it, older ones go', async () => {
    const { server, all, keeper, ask } = setUp();
    server.files = ['/app-one.js'];
    for (const build of ['one', 'two', 'three']) {
      server.build = build;
      server.files = [`/app-${build}.js`];
      await keeper.prepare();
      await keeper.switchOver();
    }
    server.isGone = true;
    expect(await ask('/app-two.js')).toBe('200 /app-two.js of two');
    expect(await ask('/app-one.js')).toContain('404');
    expect([...all.keys()].filter((name) => name.includes('files'))).toHaveLength(2);
  });

  test('[OFF4] of a build that was replaced or broke off while it was fetched are not served', async () => {
    const { server, keeper, ask } = setUp();
    await keeper.prepare();
    server.build = 'two';
    server.afterFile = () => (server.build = 'three');
    await expect(keeper.prepare()).rejects.toThrow('was replaced');
    server.afterFile = () => (server.isGone = true);
    await expect(keeper.prepare()).rejects.toThrow();
    expect(await keeper.status()).toEqual({ serving: 'one', ready: null });
    expect(await ask('/app.js')).toBe('200 /app.js of one');
    server.isGone = false;
    server.afterFile = () => undefined;
    expect(await keeper.prepare()).toEqual({ serving: 'one', ready: 'three' });
  });
});
