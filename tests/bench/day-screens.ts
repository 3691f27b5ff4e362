/**
 * The long case in the product itself: the built wall is the window that writes, shows every
 * entry and listens (to a silent room); another window gives the orders. What the wall has in
 * memory as the case grows, and how long an order takes from window to window and back.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BrowserContext, Page } from '@playwright/test';
import { DIST } from '../../src/cli/build';
import { listenFrom } from '../../src/cli/serve';
import { createStaticServer } from '../../src/cli/static-server';
import { bundle, openBundledPage } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import { writeMicrophoneFile } from '../browser/sound-as-microphone';
import { stopServer } from '../browser/watching-proxy';
import type { DayDriver } from './day-driver-page';
import { spread } from './spread';

declare const dayDriver: DayDriver;

/** The window that gives orders is never in front, and must not be slowed down for that. */
const WINDOW_ARGS = ['--disable-renderer-backgrounding', '--disable-background-timer-throttling'];
const MICROPHONE_ARGS = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];

interface ScreenFigures {
  readonly entries: number;
  readonly orderMs: Readonly<Record<string, number>>;
  /** The page alone: script, document, and bytes beside them. */
  readonly pageMb: number;
  /** With its workers, in which the listeners live (performance.measureUserAgentSpecificMemory). */
  readonly windowMb: number;
}

/** Needs the built product. `marks` are the numbers of entries at which is looked. */
export async function measureScreens(marks: readonly number[]): Promise<object> {
  const server = createStaticServer(DIST);
  const origin = `http://localhost:${await listenFrom(server, 4_273)}/`;
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-day-'));
  const silence = join(profile, 'silence.wav');
  await writeMicrophoneFile(silence, [], 60);
  const { context, kill } = await startChromium(join(profile, 'profile'), [
    ...WINDOW_ARGS,
    ...MICROPHONE_ARGS,
    `--use-file-for-fake-audio-capture=${silence}`,
  ]);
  try {
    const wall = await context.newPage();
    await wall.setViewportSize({ width: 1920, height: 1080 });
    await wall.goto(`${origin}#/wall`);
    await wall.waitForLoadState('networkidle');
    const script = await bundle('tests/bench/day-driver-page.ts');
    const driver = await openBundledPage(context, origin, script);
    await driver.evaluate(() => dayDriver.open());
    await wall.bringToFront();
    await wall.keyboard.press('l');
    await wall
      .getByText(/^(Listens for|Hears)/)
      .first()
      .waitFor({ timeout: 60_000 });
    const figures: ScreenFigures[] = [];
    for (const entries of marks) {
      const times = await driver.evaluate((it) => dayDriver.goOn(it), entries);
      figures.push({ entries, orderMs: spread(times), ...(await memoryOf(context, wall)) });
      console.error(JSON.stringify(figures.at(-1)));
    }
    const [first, last] = [figures[0], figures.at(-1)];
    const ratio = (key: 'pageMb' | 'windowMb'): number =>
      Math.round(((last?.[key] ?? Number.NaN) / (first?.[key] ?? Number.NaN)) * 1000) / 1000;
    return { figures, pageRatio: ratio('pageMb'), windowRatio: ratio('windowMb') };
  } finally {
    await kill();
    await stopServer(server);
    await rm(profile, { recursive: true, force: true });
  }
}

/** After a collection, in megabytes. */
async function memoryOf(
  context: BrowserContext,
  page: Page,
): Promise<Pick<ScreenFigures, 'pageMb' | 'windowMb'>> {
  const devtools = await context.newCDPSession(page);
  await devtools.send('HeapProfiler.collectGarbage');
  const { usedSize, embedderHeapUsedSize, backingStorageSize } =
    await devtools.send('Runtime.getHeapUsage');
  await devtools.detach();
  const bytes = await page.evaluate(async () => {
    // TypeScript does not know it yet.
    const { measureUserAgentSpecificMemory } = performance as unknown as {
      measureUserAgentSpecificMemory(this: Performance): Promise<{ readonly bytes: number }>;
    };
    return (await measureUserAgentSpecificMemory.call(performance)).bytes;
  });
  return {
    pageMb: toMb(usedSize + embedderHeapUsedSize + backingStorageSize),
    windowMb: toMb(bytes),
  };
}

function toMb(bytes: number): number {
  return Math.round(bytes / 10_000) / 100;
}
