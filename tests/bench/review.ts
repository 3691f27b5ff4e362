/**
 * `npm run bench -- review`: what the worker of the look back does with 10,000 cases, in
 * Node and, on the built product, in Chromium (review-in-chromium.ts). In Node: making the table from digests, reading it
 * from its bytes and the first answer, an answer after a filter change, memory. Beside it the naive way, which folds every entry of every case anew; that is
 * measured on a sample and multiplied. `CASES` makes it smaller.
 */
import { asId } from '../../src/domain';
import type { CaseDigest, CaseFilter } from '../../src/review';
import { CaseTable, digestCase, lookBack, packTable, unpackTable } from '../../src/review'; // prettier-ignore
import { measureInChromium } from './review-in-chromium';
import { describeBuiltIn, makeDemoCases, outlineOf } from '../../src/session';

const COUNT = Number(process.env['CASES'] ?? 10_000);
const SAMPLE = 100;
const HOUR_MS = 3_600_000;
const FILTER = { mode: 'demo' as const, procedureId: null, side: null, role: null, from: null, to: null, alternative: null, cards: null }; // prettier-ignore

/** The answer to one question; how many cases it is of. */
function answer(table: CaseTable, filter: CaseFilter): number {
  return lookBack(table, { filter, timesOf: null, key: null, hours: { fromMin: 480, hours: 8 } }).caseCount; // prettier-ignore
}

function timed<T>(work: () => T): { readonly ms: number; readonly value: T } {
  const begunMs = performance.now();
  const value = work();
  return { ms: Math.round(performance.now() - begunMs), value };
}

/** Runs the measurement; the part in Chromium takes some minutes and needs the built product. */
export async function benchReview(): Promise<object> {
  return { inNode: benchInNode(), inChromium: await measureInChromium(COUNT) };
}

function benchInNode(): object {
  const count = COUNT;
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error(card.error.code);
  const procedure = card.value.data;
  const demo = makeDemoCases({ procedure, seed: 7, firstAt: Date.UTC(2026, 0, 5, 7, 30), count: SAMPLE }); // prettier-ignore
  const outline = outlineOf(procedure);
  if (!demo.ok || !outline.ok) throw new Error('no demo cases');
  const played = [...demo.value];
  const naive = timed(() => played.flatMap((entries) => digestCase(entries, outline.value) ?? [])); // prettier-ignore
  const sample = naive.value;
  const entriesPerCase = played.reduce((sum, entries) => sum + entries.length, 0) / SAMPLE;
  const all = Array.from({ length: count }, (_, index): CaseDigest => {
    const digest = sample[index % sample.length];
    if (!digest) throw new Error('no digest');
    return { ...digest, caseId: asId(`case-${index}`), openedAt: digest.openedAt + index * HOUR_MS }; // prettier-ignore
  });
  const made = timed(() => CaseTable.of(all));
  const kept = packTable(made.value);
  const read = timed(() => unpackTable(kept) ?? made.value);
  const first = timed(() => answer(read.value, FILTER));
  const changed = timed(() => answer(read.value, { ...FILTER, side: 'left' }));
  return {
    cases: count,
    entries: Math.round(entriesPerCase * count),
    tableFromDigestsMs: made.ms,
    readTableMs: read.ms,
    firstAnswerMs: first.ms,
    filterChangeMs: changed.ms,
    casesAfterFilter: changed.value,
    tableMb: Math.round((kept.header.length + kept.numbers.length) / 100_000) / 10,
    digestsMb: Math.round(JSON.stringify(all).length / 100_000) / 10,
    heapMb: Math.round(process.memoryUsage().heapUsed / 1_000_000),
    naiveMs: Math.round((naive.ms * count) / SAMPLE) + first.ms,
  };
}
