/** The writing window dies while three windows give orders, over the real record. */
import { expect, test } from '@playwright/test';
import { bundle } from './bundled-page';
import { killWriters } from './takeover';

test('[WIN11] of orders given while the writer is killed none is lost and none is applied twice', async ({
  context,
  baseURL,
}) => {
  test.setTimeout(120_000);
  const script = await bundle('tests/browser/takeover-page.ts');
  const figures = await killWriters(context, baseURL, script, 3);
  expect(figures.orders).toBeGreaterThan(3 * 3 * 8);
  expect(figures).toMatchObject({ lost: [], doubled: [], refused: [], isWhole: true });
  console.log(`take-over: ${figures.takeoverMs.join(', ')} ms`);
});
