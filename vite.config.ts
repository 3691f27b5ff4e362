import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';
import { viteServiceWorker } from './src/offline/vite-service-worker.ts';
import { viteModelFiles } from './src/voice/models/vite-model-files.ts';

export default defineConfig({
  plugins: [svelte(), viteModelFiles(), viteServiceWorker()],
  // Nothing is inlined: the page's policy takes sound from our own addresses only.
  build: { target: 'es2023', sourcemap: true, assetsInlineLimit: 0 },
  test: {
    include: ['tests/**/*.test.ts'],
    exclude: ['tests/browser/**', 'tests/bench/**'],
    environment: 'node',
    // Time is no assertion: on a busy machine the slowest proof takes many times its second.
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // Left to itself it takes one of two cores.
    maxWorkers: 2,
    setupFiles: ['tests/support/load-hasher.ts'],
  },
});
