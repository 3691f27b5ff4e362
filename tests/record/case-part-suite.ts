/** What every adapter must do when a part of a case is asked for; belongs to the list of record-store-suite.ts. */
import { expectEqual, expectFault, expectOk } from './expectations';
import { CASE_A, CASE_B, DAY_MS, makeCase, makeOpening } from './entry-samples';
import type { StoreHarness, SuiteCase } from './record-store-suite';

export const casePartSuite: readonly SuiteCase<StoreHarness>[] = [
  {
    name: '[REC33] gives a part after a known hash, piece by piece up to the end',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 6)));
      const hashes = (await harness.dumpSealed(CASE_A)).map((it) => (it as { hash: string }).hash);
      const at = (count: number) => ({ count, hash: hashes[count - 1] ?? '0'.repeat(64) });
      const rest = expectOk(await store.readAfter(CASE_A, at(4)));
      const opening = makeOpening(CASE_A);
      const entries = makeCase(CASE_A, 6);
      expectEqual(rest, { opening, entries: entries.slice(4), tail: at(6), isEnd: true });
      const piece = expectOk(await store.readAfter(CASE_A, at(2), 3));
      expectEqual(piece, { opening, entries: entries.slice(2, 5), tail: at(5), isEnd: false });
      const all = expectOk(await store.readAfter(CASE_A, { count: 0, hash: null }));
      expectEqual(all, { opening, entries, tail: at(6), isEnd: true });
      const none = expectOk(await store.readAfter(CASE_A, at(6)));
      expectEqual(none, { opening, entries: [], tail: at(6), isEnd: true });
    },
  },
  {
    name: '[REC33] gives no part of which anything is not as it was written',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 6)));
      const stored = await harness.dumpSealed(CASE_A);
      const start = { count: 3, hash: (stored[2] as { hash: string }).hash };
      const part = async (from = start) => expectOk(await store.readAfter(CASE_A, from));
      expectEqual(await part({ ...start, hash: 'f'.repeat(64) }), null);
      expectEqual(await part({ count: 7, hash: start.hash }), null);
      for (const seq of [0, 3, 4, 5]) {
        await harness.overwrite(CASE_A, seq, { ...(stored[seq] as object), at: DAY_MS + 77 });
        expectEqual([seq, await part()], [seq, null]);
        await harness.overwrite(CASE_A, seq, stored[seq]);
      }
      expectEqual((await part())?.entries.length, 3);
      await harness.overwrite(CASE_A, 4, undefined);
      expectEqual(await part(), null);
      expectEqual(expectFault(await store.readAfter(CASE_B, start)).code, 'case-unknown');
    },
  },
];
