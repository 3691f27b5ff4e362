/**
 * A Chromium whose process we own, so that it can be killed as a pulled plug would,
 * and started again on the same profile.
 */
import { chromium } from '@playwright/test';
import type { BrowserContext } from '@playwright/test';
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createInterface } from 'node:readline';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { CHROMIUM_ARGS } from './chromium-args';

export interface KillableChromium {
  /** The profile's own context, whose storage is kept on disk. */
  readonly context: BrowserContext;
  /** Ends every process of the browser at once (SIGKILL); resolves when they are gone. */
  kill(): Promise<void>;
}

/** Starts Chromium on a profile folder. `args` are added to those of all tests. */
export async function startChromium(
  profile: string,
  args: readonly string[] = [],
): Promise<KillableChromium> {
  const own = ['--headless=new', '--remote-debugging-port=0', `--user-data-dir=${profile}`];
  // A group of its own, so that the helpers die with the browser.
  const child = spawn(CHROMIUM_PATH, [...CHROMIUM_ARGS, ...own, ...args, 'about:blank'], {
    detached: true,
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  const exited = once(child, 'exit');
  const browser = await chromium.connectOverCDP(await findDevtoolsUrl(child.stderr));
  const [context] = browser.contexts();
  if (context === undefined) throw new Error('Chromium has no context of its own');
  return {
    context,
    kill: async () => {
      if (child.pid === undefined) return;
      process.kill(-child.pid, 'SIGKILL');
      await exited;
      // A helper that waits for the disk dies later than the browser, and holds the files until then.
      while (isAlive(child.pid)) await new Promise((resolve) => setImmediate(resolve));
    },
  };
}

/** Whether any process of the group still runs; one that is dead and not yet collected does not. */
function isAlive(group: number): boolean {
  return spawnSync('pgrep', ['--pgroup', String(group), '--runstates', 'D,R,S,T']).status === 0;
}

/** Chromium says on its error output where it listens. */
async function findDevtoolsUrl(output: NodeJS.ReadableStream): Promise<string> {
  const lines = createInterface({ input: output });
  for await (const line of lines) {
    const url = /^DevTools listening on (ws:\S+)/.exec(line)?.[1];
    if (url !== undefined) return url;
  }
  throw new Error('Chromium ended before it listened');
}
