/** A desk whose microphone hears PulseAudio's room. */
import { chromium, expect } from '@playwright/test';
import type { Browser, Locator, Page } from '@playwright/test';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { CHROMIUM_ARGS } from './chromium-args';
import type { LoopbackRoom } from './loopback-room';

/** How long the listeners may take to load on a busy machine, in milliseconds. */
const LOAD_MS = 120_000;
/** After how long somebody says again what came to nothing, in milliseconds: said sooner, it might count twice. */
const AGAIN_MS = 15_000;

/** A browser that hears the room. */
export function openBrowserIn(room: LoopbackRoom): Promise<Browser> {
  return chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [...CHROMIUM_ARGS, '--use-fake-ui-for-media-stream'],
    env: room.env,
  });
}

/** Sets a demo case of the procedure with this title up as a nurse would, and waits until its desk listens; `choose` fills in what else is to be chosen. */
export async function openListeningCase(
  page: Page,
  baseURL: string,
  title: string,
  choose: () => Promise<void> = () => Promise.resolve(),
): Promise<void> {
  await page.goto(`${baseURL}#/start/setup`);
  await page.getByLabel(title, { exact: true }).check();
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await choose();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await listenAt(page);
}

/** Switches the ear on at the desk, and waits until it hears. */
export async function listenAt(desk: Page): Promise<void> {
  await desk.getByRole('button', { name: /^Listen/ }).click();
  await desk
    .getByText(/^(Listening|Hears|Hearing)/)
    .first()
    .waitFor({ timeout: LOAD_MS });
}

/** The surgeon says it, and again if it comes to nothing: on a busy machine sound is lost. */
export async function sayUntil(room: LoopbackRoom, words: string, shown: Locator): Promise<void> {
  await expect(async () => {
    await room.say({ who: 'surgeon', words, pauseS: 1 });
    await expect(shown).toBeVisible({ timeout: AGAIN_MS });
  }).toPass();
}
