/**
 * Tests in Debian's Chromium, against the built product served as `npm start` serves
 * it. One worker: two cores carry one browser and one listener.
 */
import { defineConfig } from '@playwright/test';
import { CHROMIUM_PATH } from './src/cli/debian-packages';
import { CHROMIUM_ARGS } from './tests/browser/chromium-args';

// The workers read this file again and must come to the same port; two runs on one machine must not.
process.env['CUEWALL_TEST_PORT'] ??= String(20_000 + (process.pid % 20_000));
const port = Number(process.env['CUEWALL_TEST_PORT']);

export default defineConfig({
  testDir: 'tests/browser',
  outputDir: 'test-results',
  workers: 1,
  retries: 0,
  // Long enough for a busy machine: nothing here is a measurement.
  timeout: 120_000,
  expect: { timeout: 20_000 },
  forbidOnly: process.env['CI'] !== undefined,
  use: {
    // Each context would fetch every file again; offline.spec.ts allows it.
    serviceWorkers: 'block',
    baseURL: `http://localhost:${port}/`,
    launchOptions: {
      executablePath: CHROMIUM_PATH,
      args: [...CHROMIUM_ARGS],
    },
  },
  webServer: {
    command: 'node --import tsx src/cli/main.ts serve',
    env: { PORT: String(port) },
    port,
  },
});
