/**
 * `npm run bench -- takeover`: the writing window is killed while three others give orders;
 * how long nobody is answered, and whether an order was lost or doubled. `KILLS` says how
 * often (20). The aim is two seconds.
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundle } from '../browser/bundled-page';
import { startChromium } from '../browser/killable-chromium';
import { killWriters } from '../browser/takeover';
import { spread } from './spread';

export async function benchTakeover(): Promise<object> {
  const script = await bundle('tests/browser/takeover-page.ts');
  const profile = await mkdtemp(join(tmpdir(), 'cuewall-takeover-'));
  const { context, kill } = await startChromium(profile);
  try {
    const kills = Number(process.env['KILLS'] ?? 20);
    const figures = await killWriters(context, 'http://localhost:4173/', script, kills);
    const chromium = context.browser()?.version();
    return { chromium, ...figures, takeoverMs: spread(figures.takeoverMs) };
  } finally {
    await kill();
    await rm(profile, { recursive: true, force: true });
  }
}
