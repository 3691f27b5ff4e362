/**
 * A whole spoken case of the flagship's glenoid part in a theatre's noise, in the built
 * product: voices and noise through PulseAudio as Chromium's microphone, said again where
 * the wall did not take them, nothing pressed at the desk.
 */
import { chromium, expect, test } from '@playwright/test';
import type { Browser } from '@playwright/test';
import { CHROMIUM_PATH } from '../../src/cli/debian-packages';
import { runRehearsal } from '../../src/session/rehearsal/run';
import { REVERSE_SHOULDER_REHEARSAL } from '../../src/session/rehearsal/script';
import { CHROMIUM_ARGS } from './chromium-args';
import { LoopbackRoom } from './loopback-room';
import { CaseOnDisk, createNoisyStage, makeTheatreNoise } from './noisy-stage';

/** Lines that settle nothing and take time. */
const LEFT_OUT = ['what is next', 'hold for imaging', 'resume the clock', 'read the sizes'];
/** What the people of the script mean, in their order: each "confirm" after what was not taken back. */
const MEANT = [
  ['pin-placed', 'reported'], ['wedge', 16], ['direction', 630], ['reamer-ready', 'reported'],
  ['seating', 'rocks'], ['seating', 'even'], ['plate', 'small'], ['depth', 24], ['post', 24],
  ['coupled', 'reported'], ['pin-out', 'reported'], ['fully-seated', 'reported'],
  ['screw-1-kind', 'locking'], ['screw-1-length', 30],
  ['screw-2-kind', 'non-locking'], ['screw-2-length', 26], ['sphere', 40],
  ['taper-checked', 'reported'],
]; // prettier-ignore
const SNR_DB = 10;
const MOST_S = 540;

test.skip(!LoopbackRoom.isPossible, 'Needs the Debian package "pulseaudio".');

let room: LoopbackRoom;
let browser: Browser;
test.beforeEach(async () => {
  room = await LoopbackRoom.open();
  browser = await chromium.launch({
    executablePath: CHROMIUM_PATH,
    args: [...CHROMIUM_ARGS, '--use-fake-ui-for-media-stream'],
    env: room.env,
  });
});
test.afterEach(async () => {
  await browser.close();
  await room.close();
});

test('[ALL22] a case spoken in noise ends with the sizes that were meant and no other fact', async ({
  baseURL,
}) => {
  test.setTimeout(MOST_S * 1000);
  const page = await browser.newPage();
  await page.goto(`${baseURL ?? ''}#/start/setup`);
  await page.getByLabel('Reverse shoulder: glenoid').check();
  await page.getByText('RIGHT', { exact: true }).click();
  await page.getByText('Demo, invented data').click();
  await page.getByRole('button', { name: 'Open the case' }).click();
  await page.waitForURL(/#\/desk/);
  await page.getByRole('button', { name: /^Mute voice/ }).click();
  await page.getByRole('button', { name: /^Listen/ }).click();
  await expect(page.getByText(/^(Listening|Hears|Hearing)/).first()).toBeVisible({
    timeout: 60_000,
  });
  void room.play(await makeTheatreNoise(MOST_S, SNR_DB));

  const onDisk = new CaseOnDisk(page);
  await onDisk.look();
  const lines = REVERSE_SHOULDER_REHEARSAL.filter(({ words }) => !LEFT_OUT.includes(words));
  const report = await runRehearsal(onDisk.running, lines, createNoisyStage(room, onDisk));
  test.info().annotations.push({ type: 'report', description: JSON.stringify(report) });

  expect(report.stoppedAt).toBeNull();
  expect(report.falseActivations).toEqual([]);
  await expect(page.getByText('Every step is done.')).toBeVisible();
  const settled = onDisk.entries.flatMap((entry) =>
    entry.type === 'capture.confirmed' ? [[entry.data.capture, entry.data.value]] : [],
  );
  expect(settled).toEqual(MEANT);
});
