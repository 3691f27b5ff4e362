/**
 * A microphone that is pulled out and put back, and a listener that dies, in the middle of
 * an utterance or because a part of it fails, in the built product: PulseAudio's devices as the microphone, Chromium's
 * own worker closed under it.
 */
import { expect, test } from '@playwright/test';
import type { Browser, Page } from '@playwright/test';
import { openBrowserIn, openListeningCase, sayUntil } from './listening-desk';
import { LoopbackRoom } from './loopback-room';
import type { SpokenLine } from './sound-as-microphone';

const line = (words: string): SpokenLine => ({ who: 'surgeon', words, pauseS: 1 });
const LONG_MS = 60_000;

test.skip(!LoopbackRoom.isPossible, 'Needs the Debian package "pulseaudio".');

let room: LoopbackRoom;
let browser: Browser;
test.beforeEach(async () => {
  room = await LoopbackRoom.open();
  browser = await openBrowserIn(room);
});
test.afterEach(async () => {
  await browser.close();
  await room.close();
});

/** Opens a case and its ear; the page is at the desk. */
async function listen(baseURL: string): Promise<Page> {
  const context = await browser.newContext({ viewport: { width: 1366, height: 768 } });
  const page = await context.newPage();
  await openListeningCase(page, baseURL, 'Reverse shoulder: glenoid with an augmented baseplate');
  return page;
}

const step = (page: Page, title: string) =>
  page.getByRole('region', { name: 'Field track' }).getByText(title);

test('[EAR11] a microphone that is pulled out is missed, and heard again when it is back', async ({
  baseURL,
}) => {
  test.setTimeout(240_000);
  const page = await listen(baseURL ?? '');
  await sayUntil(room, 'step done', step(page, 'Clear the cartilage'));
  const wall = await page.context().newPage();
  await wall.goto(`${baseURL ?? ''}#/wall`);
  room.pullOut();
  await expect(page.getByText('The microphone went away').first()).toBeVisible({
    timeout: LONG_MS,
  });
  // The wall's own window does not listen, and says what the listening one hears.
  await expect(wall.getByText('Can’t hear. The microphone went away')).toBeVisible();
  room.plugIn();
  await expect(page.getByText('The microphone went away')).toHaveCount(0, { timeout: LONG_MS });
  await sayUntil(room, 'step done', step(page, 'Place the guide pin'));
});

test('[EAR12] a listener that dies in the middle of an utterance is replaced, and says what was lost', async ({
  baseURL,
}) => {
  test.setTimeout(240_000);
  const page = await listen(baseURL ?? '');
  const talking = room.say(line('could we have the light a little lower please'));
  await expect(page.getByText('Hearing speech').first()).toBeVisible({ timeout: LONG_MS });
  const listener = page.workers().find((worker) => worker.url().includes('listener'));
  await listener?.evaluate(() => {
    self.close();
  });
  await talking;
  await expect(page.getByText(/what was just said is lost/).first()).toBeVisible({
    timeout: LONG_MS,
  });
  await expect(page.getByText(/^(Listening|Hears)/).first()).toBeVisible({ timeout: LONG_MS });
  await sayUntil(room, 'step done', step(page, 'Clear the cartilage'));
});

test('[EAR12] [VOI106] a text listener that fails takes the listener with it, and both are replaced', async ({
  baseURL,
}) => {
  test.setTimeout(240_000);
  const page = await listen(baseURL ?? '');
  await sayUntil(room, 'step done', step(page, 'Clear the cartilage'));
  const ofText = () => page.workers().filter((worker) => worker.url().includes('text.worker'));
  const [first] = ofText();
  await first?.evaluate(() => {
    setTimeout(() => {
      throw new Error('broken');
    });
  });
  // The new one, and none beside it.
  const others = () => ofText().filter((worker) => worker !== first).length;
  await expect.poll(others, { timeout: LONG_MS }).toBe(1);
  await expect.poll(() => ofText().length, { timeout: LONG_MS }).toBe(1);
  await sayUntil(room, 'step done', step(page, 'Place the guide pin'));
});
