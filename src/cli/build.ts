/**
 * Builds the product into dist, when dist is missing or older than what it is made of.
 */
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { ROOT, runTool } from './run-program';

/** The built product, with a slash at the end. */
export const DIST = `${ROOT}dist/`;

/** What dist is made of, relative to the root. */
const SOURCES = ['src', 'index.html', 'vite.config.ts', 'svelte.config.js', 'package-lock.json'];

/** Builds; gives the exit code. */
export function build(): Promise<number> {
  return runTool('vite', ['build', '--logLevel', 'warn']);
}

/** Builds only if something changed since the last time; gives the exit code. */
export async function buildIfOlder(): Promise<number> {
  const builtMs = await findModifiedMs(`${DIST}index.html`);
  const changedMs = await Promise.all(SOURCES.map((source) => findNewestMs(join(ROOT, source))));
  if (builtMs > Math.max(...changedMs)) return 0;
  console.error('Building the product (vite build).');
  return build();
}

/** When the newest file in a tree was changed, in milliseconds. */
async function findNewestMs(path: string): Promise<number> {
  const found = await stat(path);
  if (!found.isDirectory()) return found.mtimeMs;
  const inside = await readdir(path, { withFileTypes: true });
  const times = await Promise.all(
    inside.map((entry) =>
      entry.isDirectory()
        ? findNewestMs(join(path, entry.name))
        : findModifiedMs(join(path, entry.name)),
    ),
  );
  return Math.max(found.mtimeMs, ...times);
}

/** When a file was changed, in milliseconds; 0 where there is none. */
async function findModifiedMs(path: string): Promise<number> {
  try {
    return (await stat(path)).mtimeMs;
  } catch (reason) {
    if (reason instanceof Error && 'code' in reason && reason.code === 'ENOENT') return 0;
    throw reason;
  }
}
