/**
 * Opens a page that is nothing but one bundled file of our tests, on the origin of the
 * test server, so that it has the storage, locks and channels of a real page. Nothing
 * of the product's screens runs in it.
 */
import type { BrowserContext, Page } from '@playwright/test';
import { build } from 'vite';

/** Bundles a TypeScript file into one script that runs at once. `entry` is a path from the repository's root. */
export async function bundle(entry: string): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      lib: { entry, formats: ['iife'], name: 'cuewallTest', fileName: 'page' },
    },
  });
  const [output] = Array.isArray(built) ? built : [built];
  const script = output !== undefined && 'output' in output ? output.output[0] : undefined;
  if (script?.type !== 'chunk') throw new Error(`${entry}: expected one script`);
  return script.code;
}

/** Opens a page with the script in it. `baseURL` is that of the test server. */
export async function openBundledPage(
  context: BrowserContext,
  baseURL: string | undefined,
  script: string,
): Promise<Page> {
  if (baseURL === undefined) throw new Error('playwright.config.ts gives no baseURL');
  const page = await context.newPage();
  await page.route('**/test-page.html', (route) =>
    route.fulfill({
      contentType: 'text/html',
      body: `<!doctype html><title>Test page</title><script src="/test-page.js"></script>`,
    }),
  );
  await page.route('**/test-page.js', (route) =>
    route.fulfill({ contentType: 'text/javascript; charset=utf-8', body: script }),
  );
  await page.goto(new URL('test-page.html', baseURL).href);
  return page;
}
