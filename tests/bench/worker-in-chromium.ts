/** The built product's listener worker in Chromium, for benches that speak to it. */
import { chromium } from '@playwright/test';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { ROOT } from '../../src/cli/run-program';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { CHROMIUM_ARGS } from '../browser/chromium-args';
import { withServer } from './with-server';

const PORT = 4_379;
const ADDRESS = `http://localhost:${PORT}/`;

/** Where the page finds it. */
export interface BuiltProduct {
  readonly workerUrl: string;
  readonly siteBase: string;
}

/** The built product, served meanwhile. */
export function withBuiltProduct<T>(use: (built: BuiltProduct) => Promise<T>): Promise<T> {
  return withServer(PORT, () => {
    const worker = readdirSync(path.join(ROOT, 'dist/assets')).find((name) =>
      /^listener\.worker-.*\.js$/.test(name),
    );
    return use({ workerUrl: `${ADDRESS}assets/${worker ?? ''}`, siteBase: ADDRESS });
  });
}

/** Calls what a page's script has put under this name, in a browser of its own. `entry` is a path from the repository's root. */
export async function runInPage<T>(entry: string, name: string, task: object): Promise<T> {
  const browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [...CHROMIUM_ARGS],
  });
  try {
    const page = await openBundledPage(await browser.newContext(), ADDRESS, await bundle(entry));
    return await page.evaluate(
      ({ name: called, task: given }) =>
        (Reflect.get(globalThis, called) as (given: object) => Promise<T>)(given),
      { name, task },
    );
  } finally {
    await browser.close();
  }
}
