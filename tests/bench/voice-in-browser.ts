/**
 * What the built product costs and how fast it answers in a real browser, spoken to
 * through a sound file as the microphone: end of speech to read-back on screen, and
 * processor time while the room is silent and while people talk.
 */
import { chromium } from '@playwright/test';
import type { Browser, Page } from '@playwright/test';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { CHROMIUM_ARGS } from '../browser/chromium-args';
import { writeMicrophoneFile } from '../browser/sound-as-microphone';
import type { SpokenLine } from '../browser/sound-as-microphone';
import { spread } from './spread';
import { withServer } from './with-server';

const PORT = 4_377;
const ADDRESS = `http://localhost:${PORT}/`;
/** Over how long processor time is measured, in milliseconds. */
const SHARE_MS = 20_000;
/** How often the size is said, corrected and taken back. */
const ROUNDS = 7;

const line = (words: string, pauseS: number): SpokenLine => ({ who: 'surgeon', words, pauseS });
const TALK = 'could we have the light a little lower please';

const READ_BACKS: readonly SpokenLine[] = [
  line('step done', 3), line('step done', 4), line('pin placed', 6), line('confirm', 4),
  ...Array.from({ length: ROUNDS }).flatMap(() => [
    line('wedge two four', 5), line('correct one six', 5), line('wrong cancel that', 3),
  ]),
]; // prettier-ignore

/** A frame of the page, as the script below notes it. */
interface Frame {
  readonly atMs: number;
  readonly hasReadBack: boolean;
}
interface StoredEntry {
  readonly type: string;
  readonly mono: number;
  readonly data: { readonly decisionMs?: number };
}

/** Builds the product where that is due, and runs all three. */
export async function measureInBrowser(): Promise<object> {
  const folder = await mkdtemp(path.join(tmpdir(), 'cuewall-bench-'));
  const talk = Array.from({ length: 20 }, () => line(TALK, 0.4));
  try {
    return await withServer(PORT, async () => ({
      processor: {
        silence: await measureShare(folder, 'silence', []),
        talk: await measureShare(folder, 'talk', talk),
      },
      readBack: await measureReadBacks(folder),
    }));
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function measureReadBacks(folder: string): Promise<object> {
  const { browser, page } = await openListening(folder, 'read-backs', READ_BACKS);
  const totalS = READ_BACKS.reduce((sum, { pauseS }) => sum + pauseS + 2.2, 8);
  await page.waitForTimeout(totalS * 1000);
  const entries = await readEntries(page);
  const frames = await page.evaluate(() => (globalThis as unknown as { frames: Frame[] }).frames);
  await browser.close();
  const decided: number[] = [];
  const shown: number[] = [];
  entries.forEach((entry, index) => {
    const decisionMs = entries[index - 1]?.data.decisionMs;
    if (entry.type !== 'capture.offered' || decisionMs === undefined) return;
    const frame = frames.find(({ atMs, hasReadBack }) => hasReadBack && atMs > entry.mono);
    if (!frame) return;
    decided.push(decisionMs);
    shown.push(decisionMs + frame.atMs - entry.mono);
  });
  return {
    endOfSpeechToDecisionMs: spread(decided),
    endOfSpeechToReadBackOnScreenMs: spread(shown),
  };
}

/** Part of one core that the whole browser takes, before and while it listens. */
async function measureShare(
  folder: string,
  name: string,
  lines: readonly SpokenLine[],
): Promise<object> {
  const { browser, page, listen } = await openCase(folder, name, lines);
  const idle = await shareOver(browser, page);
  await listen();
  await page.waitForTimeout(6_000);
  const listening = await shareOver(browser, page);
  await browser.close();
  return {
    withoutListening: idle,
    listening,
    listenerAlone: Number((listening - idle).toFixed(3)),
  };
}

async function shareOver(browser: Browser, page: Page): Promise<number> {
  const session = await browser.newBrowserCDPSession();
  const cpuS = async () => {
    const { processInfo } = await session.send('SystemInfo.getProcessInfo');
    return processInfo.reduce((sum, { cpuTime }) => sum + cpuTime, 0);
  };
  const before = await cpuS();
  await page.waitForTimeout(SHARE_MS);
  return Number((((await cpuS()) - before) / (SHARE_MS / 1000)).toFixed(3));
}

async function openListening(folder: string, name: string, lines: readonly SpokenLine[]) {
  const opened = await openCase(folder, name, lines);
  await opened.listen();
  return opened;
}

/** Opens a demo case on the wall in one page; `listen` switches the microphone on. */
async function openCase(folder: string, name: string, lines: readonly SpokenLine[]) {
  const sound = path.join(folder, `${name}.wav`);
  await writeMicrophoneFile(sound, lines, lines.length > 0 ? 4 : 60);
  const browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [
      ...CHROMIUM_ARGS,
      '--use-fake-device-for-media-stream',
      '--use-fake-ui-for-media-stream',
      `--use-file-for-fake-audio-capture=${sound}`,
    ],
  });
  const page = await browser.newPage({ viewport: { width: 1920, height: 1080 } });
  await page.addInitScript(() => {
    const frames: Frame[] = [];
    (globalThis as unknown as { frames: Frame[] }).frames = frames;
    new MutationObserver(() => {
      requestAnimationFrame(() => {
        const hasReadBack = document.querySelector('.read-back') !== null;
        frames.push({ atMs: performance.now(), hasReadBack });
      });
    }).observe(document, { childList: true, subtree: true, characterData: true });
  });
  await page.goto(`${ADDRESS}#/start/setup`);
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  const listenButton = page.getByRole('button', { name: /^Listen/ });
  await listenButton.waitFor();
  const listen = async () => {
    await listenButton.click();
    await page.evaluate(() => (location.hash = '#/wall'));
  };
  return { browser, page, listen };
}

/** The record as it lies in the browser's own storage. */
async function readEntries(page: Page): Promise<readonly StoredEntry[]> {
  return page.evaluate(
    () =>
      new Promise<StoredEntry[]>((resolve, reject) => {
        const open = indexedDB.open('cuewall-record');
        open.onerror = () => reject(new Error('The record does not open'));
        open.onsuccess = () => {
          const [store = ''] = open.result.objectStoreNames;
          const all = open.result.transaction(store).objectStore(store).getAll();
          all.onsuccess = () => resolve(all.result as StoredEntry[]);
        };
      }),
  );
}
