/** Kills browsers in the middle of spoken cases, and looks what is left when they are started again. */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from '@playwright/test';
import { openBundledPage } from './bundled-page';
import type { CrashPage } from './crash-page';
import { startChromium } from './killable-chromium';
import type { KillableChromium } from './killable-chromium';

declare const crashPage: CrashPage;

/** The page's files come from the test; nothing listens at this address. */
const ADDRESS = 'http://localhost:4173/';
/** A browser is killed at a moment between these, in milliseconds after its case goes on. */
const SOONEST_MS = 20;
const LATEST_MS = 900;

export interface CrashFigures {
  readonly crashes: number;
  readonly acknowledged: number;
  readonly lost: number;
  readonly chainsBroken: number;
  readonly notResumed: number;
  readonly mended: number;
  /** Cases that the browser had thrown away and the second copy gave back. */
  readonly restored: number;
  readonly casesClosed: number;
}

/** Starts a browser with the page; `acknowledge` is told how many entries of its case are durable. */
export async function openCrashPage(
  profile: string,
  script: string,
  acknowledge: (entries: number) => void = () => undefined,
): Promise<KillableChromium & { readonly page: Page }> {
  const browser = await startChromium(profile);
  const page = await openBundledPage(browser.context, ADDRESS, script);
  await page.exposeFunction('acknowledge', acknowledge);
  await page.waitForFunction(() => 'acknowledge' in globalThis && 'crashPage' in globalThis);
  return { ...browser, page };
}

/** Kills so many browsers at random moments, one after the other on one profile. */
export async function countCrashes(script: string, crashes: number): Promise<CrashFigures> {
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-crash-'));
  const sum = { acknowledged: 0, lost: 0, chainsBroken: 0, notResumed: 0, mended: 0, restored: 0, casesClosed: 0 }; // prettier-ignore
  let known = 0;
  let number = 0;
  for (let crash = 0; crash < crashes; crash += 1) {
    const name = `case-${number}`;
    const { page, kill } = await openCrashPage(profile, script, (entries) => (known = Math.max(known, entries))); // prettier-ignore
    const running = page.evaluate((it) => crashPage.run(it), name).catch(() => 'cut off' as const);
    const delayMs = SOONEST_MS + Math.random() * (LATEST_MS - SOONEST_MS);
    const ended = await Promise.race([running, new Promise<null>((resolve) => setTimeout(() => resolve(null), delayMs))]); // prettier-ignore
    await kill();

    const again = await openCrashPage(profile, script);
    const found = await again.page.evaluate((it) => crashPage.find(it), name);
    await again.kill();
    sum.lost += Math.max(0, known - found.entries);
    sum.chainsBroken += found.isWhole ? 0 : 1;
    sum.notResumed += found.isResumed ? 0 : 1;
    sum.mended += found.mended;
    sum.restored += found.restored;
    if (ended === 'closed') {
      sum.acknowledged += known;
      sum.casesClosed += 1;
      number += 1;
      known = 0;
    }
    if (!found.isWhole || known > found.entries)
      console.error(JSON.stringify({ crash, known, found }));
    // Each loss counts once.
    known = Math.min(known, found.entries);
  }
  await rm(profile, { recursive: true, force: true });
  return { crashes, ...sum, acknowledged: sum.acknowledged + known };
}
