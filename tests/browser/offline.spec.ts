/** The built product when its server is gone. */
import { expect, test } from '@playwright/test';
import type { Page } from '@playwright/test';
import { createHash } from 'node:crypto';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import type { Server } from 'node:http';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { DIST } from '../../src/cli/build';
import { listenFrom } from '../../src/cli/serve';
import { createStaticServer } from '../../src/cli/static-server';
import { leadToTheEnd } from './desk-hand';
import { startChromium } from './killable-chromium';
import { writeMicrophoneFile } from './sound-as-microphone';
import { startWatchingProxy, stopServer } from './watching-proxy';

test.use({ serviceWorkers: 'allow' });

async function serveBuild(): Promise<{ readonly server: Server; readonly origin: string }> {
  const server = createStaticServer(DIST);
  const port = await listenFrom(server, 24_000 + (process.pid % 1000));
  return { server, origin: `http://localhost:${port}` };
}

function sha256(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** One visit, until the build is kept; then the server goes. */
async function visitOnce(page: Page, origin: string, server: Server): Promise<void> {
  await page.goto(`${origin}/#/record`);
  await expect(page.getByText(/kept here whole/)).toBeVisible({ timeout: 60_000 });
  await stopServer(server);
}

test('[OFF1] [OFF2] after one visit it runs without its server, listener included', async ({
  page,
  context,
}) => {
  test.setTimeout(150_000);
  const { server, origin } = await serveBuild();
  await visitOnce(page, origin, server);

  await page.goto(`${origin}/`);
  await page.getByRole('button', { name: /Watch a rehearsal/ }).click();
  await expect(page.getByRole('heading', { name: 'Place the guide pin' })).toBeVisible({
    timeout: 90_000,
  });
  // A model in a package is kept as well, whole: docs/third-party.md has its checksum.
  const sum = await page.evaluate(async () => {
    const answer = await fetch('/model/text-model/encoder_model.onnx');
    const hash = await crypto.subtle.digest('SHA-256', await answer.arrayBuffer());
    return [...new Uint8Array(hash)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  });
  const listed = await readFile('docs/third-party.md', 'utf8');
  expect(listed).toContain(`${sum}  text-model/encoder_model.onnx`);
  const unknown = await page.evaluate(async () => (await fetch('/nothing')).status);
  expect(unknown).toBe(404);
  const answer = await context.newPage().then((it) => it.goto(`${origin}/no/such/page`));
  expect(answer?.status()).toBe(404);
});

test('[OFF2] every recording, of the wall and of the rehearsal, lies in the build', async () => {
  const { files } = JSON.parse(await readFile(path.join(DIST, 'files.json'), 'utf8')) as {
    readonly files: readonly string[];
  };
  const sums = (folder: string, names: readonly string[]): Promise<readonly string[]> =>
    Promise.all(names.map(async (name) => sha256(await readFile(path.join(folder, name)))));
  // By content: two texts may sound the same, and lie there once.
  const built = new Set(await sums(DIST, files));
  for (const folder of ['src/voice/clips', 'src/voice/rehearsal-clips']) {
    const names = (await readdir(folder)).filter((name) => name !== 'manifest.json');
    const recordings = await sums(folder, names);
    expect(recordings.length).toBeGreaterThan(0);
    expect(names.filter((_, at) => !built.has(recordings[at] ?? ''))).toEqual([]);
  }
});

test('[OFF6] nothing large lies in the build twice', async () => {
  const list = JSON.parse(await readFile(path.join(DIST, 'files.json'), 'utf8')) as {
    readonly files: readonly string[];
  };
  const paths = new Map<string, string[]>();
  for (const file of list.files) {
    const bytes = await readFile(path.join(DIST, file));
    if (bytes.length < 100_000) continue;
    const hash = sha256(bytes);
    paths.set(hash, [...(paths.get(hash) ?? []), file]);
  }
  expect(paths.size).toBeGreaterThan(0);
  expect([...paths.values()].filter(({ length }) => length > 1)).toEqual([]);
});

test('[OFF5] with the server gone a rehearsed case runs to its report, and nothing asks another origin', async () => {
  test.setTimeout(240_000);
  const folder = await mkdtemp(path.join(tmpdir(), 'cuewall-offline-'));
  const sound = path.join(folder, 'beginning.wav');
  // Twice would do; what a busy machine misses is said again, and one too many only gets its reason.
  const line = { who: 'surgeon', words: 'step done', pauseS: 8 } as const;
  await writeMicrophoneFile(sound, [line, line, line, line], 6);
  const { server, origin } = await serveBuild();
  const proxy = await startWatchingProxy(origin);
  const { context, kill } = await startChromium(path.join(folder, 'profile'), [
    ...proxy.args,
    '--use-fake-device-for-media-stream',
    '--use-fake-ui-for-media-stream',
    `--use-file-for-fake-audio-capture=${sound}%noloop`,
  ]);
  try {
    const desk = await context.newPage();
    await visitOnce(desk, origin, server);
    await desk.goto(`${origin}/#/start/setup`);
    await desk.getByLabel('Reverse shoulder: glenoid').check();
    await desk.getByText('RIGHT', { exact: true }).click();
    await desk.getByText('Demo, invented data').click();
    await desk.getByRole('button', { name: 'Open the case' }).click();
    await desk.waitForURL(/#\/desk/);
    const wall = await context.newPage();
    await wall.goto(`${origin}/#/wall`);
    await desk.bringToFront();
    // The beginning is spoken, and heard by the listeners that were kept.
    await desk.getByRole('button', { name: /^Listen/ }).click();
    await expect(wall.getByRole('heading', { name: 'Place the guide pin' })).toBeVisible({
      timeout: 90_000,
    });
    // All the rest is pressed.
    await leadToTheEnd(desk);
    await desk.getByRole('button', { name: 'Close the case…' }).click();
    await desk.getByRole('button', { name: 'Finished' }).click();
    // By key: a click so soon after the last one, at the same place, counts as a double press.
    await desk.getByRole('button', { name: 'Close the case', exact: true }).press('Enter');
    await expect(desk.getByText(/closed/i).first()).toBeVisible();

    await desk.goto(`${origin}/#/review`);
    await desk
      .getByRole('link', { name: /Look back/ })
      .first()
      .click();
    await expect(desk.getByText('As it was written')).toBeVisible({ timeout: 30_000 });
    const said = desk.locator('.review');
    await expect(said).toContainText('Place the guide pin');
    const downloading = desk.waitForEvent('download');
    await desk.getByRole('button', { name: /JSON/ }).click();
    const file = JSON.parse(await readFile(await (await downloading).path(), 'utf8')) as {
      readonly entries: readonly { readonly type: string; readonly source: string }[];
    };
    const heard = file.entries.filter(({ type }) => type === 'phrase.heard').length;
    expect(heard).toBeGreaterThanOrEqual(2);
    expect(file.entries.at(-1)).toMatchObject({
      type: 'case.closed',
      data: { outcome: 'finished' },
    });
    // What every other screen asks for when it opens.
    for (const screen of ['record', 'voice', 'procedures', 'implants', 'wall', 'start'])
      await desk.goto(`${origin}/#/${screen}`);
    expect(proxy.strangers).toEqual([]);
  } finally {
    await kill();
    await proxy.close();
    await rm(folder, { recursive: true, force: true });
  }
});
