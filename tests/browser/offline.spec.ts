/** The built product when its server is gone. */
import { expect, test } from '@playwright/test';
import type { Server } from 'node:http';
import { DIST } from '../../src/cli/build';
import { listenFrom } from '../../src/cli/serve';
import { createStaticServer } from '../../src/cli/static-server';

test.use({ serviceWorkers: 'allow' });

async function stop(server: Server): Promise<void> {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
}

test('[OFF1] [OFF2] [OFF5] after one visit it runs without its server, listener included, and asks nobody else', async ({
  page,
  context,
}) => {
  test.setTimeout(150_000);
  const server = createStaticServer(DIST);
  const port = await listenFrom(server, 24_000 + (process.pid % 1000));
  const origin = `http://localhost:${port}`;
  const strangers: string[] = [];
  context.on('request', (request) => {
    const address = new URL(request.url());
    if (address.protocol.startsWith('http') && address.origin !== origin)
      strangers.push(address.href);
  });
  await page.goto(`${origin}/#/record`);
  await expect(page.getByText(/kept here whole/)).toBeVisible({ timeout: 60_000 });
  await stop(server);

  await page.goto(`${origin}/`);
  await page.getByRole('button', { name: /Watch a rehearsal/ }).click();
  await expect(page.getByRole('heading', { name: 'Place the guide pin' })).toBeVisible({
    timeout: 90_000,
  });
  expect(strangers).toEqual([]);
  const unknown = await page.evaluate(async () => (await fetch('/nothing')).status);
  expect(unknown).toBe(404);
  const answer = await context.newPage().then((it) => it.goto(`${origin}/no/such/page`));
  expect(answer?.status()).toBe(404);
});
