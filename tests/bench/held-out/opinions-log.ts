/**
 * What the listeners thought of each sound, one JSON line each, in the file that
 * CUEWALL_BENCH_OPINIONS names: with `--tuning` the data that src/voice/decision/decision-limits.ts
 * is set on. Without it nothing is written.
 */
import { appendFileSync } from 'node:fs';
import type { Opinions } from '../../../src/voice';

const FILE = process.env['CUEWALL_BENCH_OPINIONS'];
/** How many of each ranking are kept? */
const LISTED = 16;

/** `about`: what was said (null for talk that was meant for nobody), by whom and where. */
export function noteOpinions(about: object, opinions: Opinions | null): void {
  if (!FILE) return;
  const line = opinions && {
    grammar: { ...opinions.grammar, margin: opinions.grammar.margin() },
    network: opinions.network.slice(0, LISTED),
    ranked: opinions.ranked.slice(0, LISTED),
    text: opinions.text,
    head: opinions.head,
    unsayable: opinions.unsayable.slice(0, LISTED),
    secondVoice: opinions.secondVoice(),
  };
  appendFileSync(FILE, `${JSON.stringify({ ...about, ...line })}\n`);
}
