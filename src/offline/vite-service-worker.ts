/**
 * Vite plugin: after the build, lists every file of it with a fingerprint of them all
 * (files.json), and bundles the service worker to one script beside them.
 */
import { createHash } from 'node:crypto';
import { readFileSync, readdirSync, writeFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'vite';
import type { Plugin } from 'vite';

/** Where the worker lies: at the root, so that it may answer for everything. */
const WORKER_FILE = 'service-worker.js';
/** What a window never asks for. */
const LEFT_OUT = /\.map$|^(files\.json|service-worker\.js|index\.html)$/;

/** Put this into vite.config.ts. */
export function viteServiceWorker(): Plugin {
  let outDir = '';
  return {
    name: 'cuewall-service-worker',
    apply: 'build',
    configResolved: (config) => {
      outDir = config.build.outDir;
    },
    closeBundle: async () => {
      const all = listFiles(outDir);
      const hash = createHash('sha256');
      for (const path of all) hash.update(path).update(readFileSync(join(outDir, path)));
      const list = {
        build: hash.digest('hex').slice(0, 12),
        files: all.filter((path) => !LEFT_OUT.test(path)).map((path) => `/${path}`),
      };
      await buildWorker(outDir);
      writeFileSync(join(outDir, 'files.json'), `${JSON.stringify(list)}\n`);
    },
  };
}

function listFiles(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).replaceAll('\\', '/'))
    .filter((path) => !/^(files\.json|service-worker\.js)$/.test(path))
    .sort();
}

async function buildWorker(outDir: string): Promise<void> {
  const entry = fileURLToPath(new URL('./service.worker.ts', import.meta.url));
  await build({
    configFile: false,
    logLevel: 'warn',
    publicDir: false,
    build: {
      outDir,
      emptyOutDir: false,
      target: 'es2023',
      lib: { entry, formats: ['iife'], name: 'cuewall', fileName: () => WORKER_FILE },
    },
  });
}
