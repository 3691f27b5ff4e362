/**
 * The part of bench review that runs in Chromium, on the built product: a record with
 * many cases on disk; the first visit, which reads every entry; a cold start after it;
 * a filter change. Frames are watched from before the product's own script runs.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from '@playwright/test';
import { DIST } from '../../src/cli/build';
import { createStaticServer } from '../../src/cli/static-server';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import type { ReviewBenchPage } from './review-page';

declare const reviewBenchPage: ReviewBenchPage;
declare const watched: { readonly frames: readonly number[]; readonly chartAt: number | null };

interface Visit {
  /** From navigation to the first chart, in milliseconds, and until nothing is left to read. */
  readonly firstChartMs: number;
  readonly allReadMs: number;
  readonly longestFrameMs: number;
  readonly framesOver50: number;
  readonly memory: Memory | null;
}

/** What the browser counts when all is read, in megabytes; null where it does not say. */
interface Memory {
  readonly windowMb: number;
  readonly workerMb: number;
}

export interface ChromiumFigures {
  readonly chromium: string | undefined;
  readonly entries: number;
  /** The first visit of all: every entry is read. */
  readonly firstVisit: Visit;
  /** Starts of the browser after it. */
  readonly coldStarts: readonly Visit[];
  readonly filterChangeMs: readonly number[];
  readonly longestFrameInChangesMs: number;
}

/** How long the browser has for its own windows before the product is opened. */
const SETTLE_MS = 3000;

/** Needs the built product (npx vite build). */
export async function measureInChromium(count: number): Promise<ChromiumFigures> {
  const server = createStaticServer(DIST);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = `http://localhost:${(server.address() as AddressInfo).port}/`;
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-review-'));
  const script = await bundle('tests/bench/review-page.ts');
  let browser = await startChromium(profile);
  try {
    const filling = await openBundledPage(browser.context, address, script);
    const begunMs = performance.now();
    const entries = await filling.evaluate(
      (it) => reviewBenchPage.fill(it, 'reverse-shoulder-glenoid'),
      count,
    );
    console.error(
      `${entries} entries in the record after ${Math.round(performance.now() - begunMs)} ms`,
    );
    await filling.close();
    const firstVisit = await visit(browser.context, address, count);
    await firstVisit.page.close();
    const coldStarts: Visit[] = [];
    let changes: Awaited<ReturnType<typeof changeFilters>> = { ms: [], longest: 0 };
    for (let start = 0; start < 3; start += 1) {
      await browser.context.browser()?.close();
      await browser.kill().catch(() => undefined);
      browser = await startChromium(profile);
      // The browser's own start is not the product's.
      await new Promise((resolve) => setTimeout(resolve, SETTLE_MS));
      const { page, figures } = await visit(browser.context, address, count);
      coldStarts.push(figures);
      if (start === 2) changes = await changeFilters(page);
      await page.close();
    }
    return {
      chromium: browser.context.browser()?.version(),
      entries,
      firstVisit: firstVisit.figures,
      coldStarts,
      filterChangeMs: changes.ms,
      longestFrameInChangesMs: changes.longest,
    };
  } finally {
    await browser.kill();
    server.close();
    server.closeAllConnections();
    await rm(profile, { recursive: true, force: true });
  }
}

async function visit(
  context: BrowserContext,
  address: string,
  count: number,
): Promise<{ readonly page: Page; readonly figures: Visit }> {
  const page = await context.newPage();
  await page.addInitScript({ content: WATCH_FRAMES });
  await page.goto(`${address}#/review`, { waitUntil: 'commit' });
  await page.waitForFunction(() => watched.chartAt !== null, null, { timeout: 600_000 });
  await page.waitForFunction(
    (it) =>
      document.querySelector('header b')?.textContent?.startsWith(`${it} `) === true &&
      document.querySelector('header progress') === null,
    String(count),
    { timeout: 900_000 },
  );
  const timed = await page.evaluate(() => ({
    firstChartMs: Math.round(watched.chartAt ?? NaN),
    allReadMs: Math.round(performance.now()),
    longestFrameMs: Math.round(Math.max(...watched.frames)),
    framesOver50: watched.frames.filter((ms) => ms > 50).length,
  }));
  const figures: Visit = { ...timed, memory: await measureMemory(page) };
  console.error(JSON.stringify(figures));
  return { page, figures };
}

/** By measureUserAgentSpecificMemory (WICG, Measure Memory API), which waits for the browser to tidy up and counts workers too. */
async function measureMemory(page: Page): Promise<Memory | null> {
  return page.evaluate(MEASURE_MEMORY);
}

/** Chooses a side and all sides in turns; each time until the new number of cases has been drawn. */
async function changeFilters(page: Page): Promise<{ ms: readonly number[]; longest: number }> {
  return page.evaluate(CHANGE_FILTERS);
}

/** Runs in the page before anything else; as text, because the loader of this file puts helpers into functions. */
const WATCH_FRAMES = `
  const watched = (globalThis.watched = { frames: [], chartAt: null });
  let last = performance.now();
  requestAnimationFrame(function next(now) {
    watched.frames.push(now - last);
    last = now;
    if (watched.chartAt === null && document.querySelector('figure svg .box')) watched.chartAt = now;
    requestAnimationFrame(next);
  });`;

const MEASURE_MEMORY = `(async () => {
  if (!crossOriginIsolated || !performance.measureUserAgentSpecificMemory) return null;
  const { bytes, breakdown } = await performance.measureUserAgentSpecificMemory();
  const inWorkers = breakdown
    .filter(({ attribution }) => attribution.some(({ scope }) => scope !== 'Window'))
    .reduce((sum, part) => sum + part.bytes, 0);
  const toMb = (count) => Math.round(count / 100_000) / 10;
  return { windowMb: toMb(bytes - inWorkers), workerMb: toMb(inWorkers) };
})()`;

const CHANGE_FILTERS = `(async () => {
  const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
  const select = [...document.querySelectorAll('form label')]
    .find((label) => label.textContent.trim().startsWith('Side'))
    .querySelector('select');
  const shown = () => document.querySelector('header b').textContent;
  const ms = [];
  await frame();
  watched.frames.length = 0;
  for (let change = 0; change < 6; change += 1) {
    const before = shown();
    const begun = performance.now();
    select.value = change % 2 === 0 ? 'left' : '';
    select.dispatchEvent(new Event('change', { bubbles: true }));
    while (shown() === before) await frame();
    await frame();
    ms.push(Math.round(performance.now() - begun));
    await new Promise((resolve) => setTimeout(resolve, 300));
  }
  return { ms, longest: Math.round(Math.max(...watched.frames)) };
})()`;
