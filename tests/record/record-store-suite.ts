/**
 * What every adapter of the record must do. The cases know no test runner, so the
 * same list runs on the memory adapter and on fake-indexeddb under Node, and on
 * Chromium's own IndexedDB in a page. A case fails by throwing.
 */
import fc from 'fast-check';
import { asId } from '../../src/domain';
import type { CaseId, Entry } from '../../src/domain';
import type { RecordStore } from '../../src/record';
import { casePartSuite } from './case-part-suite';
import { expectEqual, expectFault, expectOk } from './expectations';
import {
  CASE_A,
  CASE_B,
  DAY_MS,
  makeCase,
  makeEntry,
  makeOffer,
  makeOpening,
} from './entry-samples';

/** What a runner lends to a case. */
export interface StoreHarness {
  /** A store over an empty place. */
  open(): Promise<RecordStore>;
  /** Another store over the same place, as a restarted window would have. */
  reopen(): Promise<RecordStore>;
  /** Puts any value where an entry of a case would lie, past the adapter. */
  plant(caseId: CaseId, seq: number, value: unknown): Promise<void>;
  /** Every raw value of a case, in order, past the adapter, without the hashes that the store adds. */
  dump(caseId: CaseId): Promise<readonly unknown[]>;
  /** The same with the hashes. */
  dumpSealed(caseId: CaseId): Promise<readonly unknown[]>;
  /** Puts another value in the place of one that is there, or takes it out (undefined), past the adapter. */
  overwrite(caseId: CaseId, seq: number, value: unknown): Promise<void>;
}

export interface SuiteCase<Harness> {
  readonly name: string;
  run(harness: Harness): Promise<void>;
}

export const recordStoreSuite: readonly SuiteCase<StoreHarness>[] = [
  {
    name: '[REC1] gives entries back in order, as they were written',
    run: async (harness) => {
      const store = await harness.open();
      const entries = makeCase(CASE_A, 30);
      expectOk(await store.append(CASE_A, entries.slice(0, 1)));
      expectOk(await store.append(CASE_A, entries.slice(1, 12)));
      expectOk(await store.append(CASE_A, entries.slice(12)));
      const read = expectOk(await store.read(CASE_A));
      expectEqual([read.entries, read.problem, read.isReadOnly], [entries, null, false]);
    },
  },
  {
    name: '[REC1] keeps what it was given, not what the giver made of it later',
    run: async (harness) => {
      const store = await harness.open();
      const opening = makeOpening(CASE_A);
      expectOk(await store.append(CASE_A, [opening]));
      Object.assign(opening.data, { side: 'right' });
      const { entries } = expectOk(await store.read(CASE_A));
      expectEqual(entries, [makeOpening(CASE_A)]);
    },
  },
  {
    name: '[REC2] refuses to overwrite an entry and keeps the first one',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      const again = await store.append(CASE_A, [makeOffer(CASE_A, 2, 99)]);
      expectEqual(expectFault(again), { code: 'record-conflict', params: { seq: '2' } });
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 3));
    },
  },
  {
    name: '[REC2] a second window that writes the same position loses, and sees what won',
    run: async (harness) => {
      const one = await harness.open();
      const two = await harness.reopen();
      expectOk(await one.append(CASE_A, makeCase(CASE_A, 2)));
      const results = await Promise.all([
        one.append(CASE_A, [makeOffer(CASE_A, 2, 20)]),
        two.append(CASE_A, [makeOffer(CASE_A, 2, 24)]),
      ]);
      expectEqual(results.filter((result) => result.ok).length, 1);
      const { entries } = expectOk(await two.read(CASE_A));
      expectEqual(entries[2], makeOffer(CASE_A, 2, results[0].ok ? 20 : 24));
    },
  },
  {
    name: '[REC3] refuses an entry whose sequence is not next, and says which is',
    run: async (harness) => {
      const store = await harness.open();
      const first = await store.append(CASE_A, [makeOffer(CASE_A, 1, 20)]);
      expectEqual(expectFault(first), { code: 'record-gap', params: { seq: '1', expected: '0' } });
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      const later = await store.append(CASE_A, [makeOffer(CASE_A, 4, 20)]);
      expectEqual(expectFault(later), { code: 'record-gap', params: { seq: '4', expected: '2' } });
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 2));
    },
  },
  {
    name: '[REC3] refuses a batch with a hole or a repeat inside it',
    run: async (harness) => {
      const store = await harness.open();
      const [opening] = makeCase(CASE_A, 1) as [Entry];
      const holed = await store.append(CASE_A, [opening, makeOffer(CASE_A, 2, 20)]);
      expectEqual(expectFault(holed).code, 'record-gap');
      const doubled = await store.append(CASE_A, [opening, makeOffer(CASE_A, 0, 20)]);
      expectEqual(expectFault(doubled).code, 'record-conflict');
      expectEqual(await harness.dump(CASE_A), []);
    },
  },
  {
    name: '[REC4] writes all of a batch or none of it',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      const unstorable = makeEntry(CASE_A, 4, {
        type: 'clock.held',
        data: { reason: (() => 'a function can not be stored') as unknown as string },
      });
      const batch = [makeOffer(CASE_A, 2, 16), makeOffer(CASE_A, 3, 20), unstorable];
      expectEqual(expectFault(await store.append(CASE_A, batch)).code, 'record-append-failed');
      expectEqual(await harness.dump(CASE_A), makeCase(CASE_A, 2));
      expectOk(await store.append(CASE_A, batch.slice(0, 2)));
    },
  },
  {
    name: '[REC4] an empty batch changes nothing',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, []));
      expectEqual(expectFault(await store.read(CASE_A)).code, 'case-unknown');
      expectEqual(expectOk(await store.listCases()), []);
    },
  },
  {
    name: '[REC5] refuses to write what it could not read back',
    run: async (harness) => {
      const store = await harness.open();
      const opening = makeOpening(CASE_A);
      const bad: readonly unknown[] = [
        { ...opening, at: Number.NaN },
        { ...opening, type: 'case.invented' },
        { ...opening, version: 3 },
        { ...opening, caseId: CASE_B },
        { ...opening, data: null },
      ];
      for (const entry of bad) {
        const result = await store.append(CASE_A, [entry as Entry]);
        expectEqual(expectFault(result).code, 'record-append-failed');
      }
      expectEqual(await harness.dump(CASE_A), []);
    },
  },
  {
    name: '[REC6] keeps everything before a damaged entry and opens the case read-only',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      const torn = { seq: 3, type: 'capture.offered' };
      await harness.plant(CASE_A, 3, torn);
      await harness.plant(CASE_A, 4, makeOffer(CASE_A, 4, 4));
      const read = expectOk(await store.read(CASE_A));
      expectEqual(read.entries, makeCase(CASE_A, 3));
      expectEqual(read.problem?.code, 'record-unreadable');
      expectEqual(read.problem?.params['seq'], '3');
      expectEqual(read.isReadOnly, true);
      expectEqual((await harness.dump(CASE_A))[3], torn);
    },
  },
  {
    name: '[REC6] reports a missing entry and keeps everything before it',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      await harness.plant(CASE_A, 5, makeOffer(CASE_A, 5, 5));
      const read = expectOk(await store.read(CASE_A));
      expectEqual(read.entries, makeCase(CASE_A, 2));
      const problem = { code: 'record-unreadable', params: { seq: '2', detail: 'missing' } };
      expectEqual(read.problem, problem);
    },
  },
  {
    name: '[REC7] an entry of a later version makes the case read-only and is left as it is',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 2)));
      const later = { ...makeOffer(CASE_A, 2, 2), version: 7, type: 'depth.felt' };
      await harness.plant(CASE_A, 2, later);
      const read = expectOk(await store.read(CASE_A));
      expectEqual(read.entries, makeCase(CASE_A, 2));
      const problem = { code: 'record-too-new', params: { received: '7', expected: '2' } };
      expectEqual(read.problem, problem);
      expectEqual(read.isReadOnly, true);
      expectEqual((await harness.dump(CASE_A))[2], later);
    },
  },
  {
    name: '[REC8] lists cases, the newest first, with what their ends say',
    run: async (harness) => {
      const store = await harness.open();
      const later = makeOpening(CASE_B, 'rehearsal', DAY_MS + 60_000);
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      expectOk(
        await store.append(CASE_A, [
          makeEntry(CASE_A, 3, { type: 'case.closed', data: { outcome: 'finished' } }),
          makeEntry(CASE_A, 4, { type: 'run.resumed', data: {} }),
        ]),
      );
      expectOk(await store.append(CASE_B, [later]));
      const opening = {
        side: 'left',
        procedureId: 'example-procedure',
        procedureTitle: 'Example operation',
      };
      expectEqual(expectOk(await store.listCases()), [
        { caseId: CASE_B, openedAt: later.at, mode: 'rehearsal', ...opening, lastAt: later.at, entryCount: 1, isClosed: false },
        { caseId: CASE_A, openedAt: DAY_MS, mode: 'demo', ...opening, lastAt: DAY_MS + 4000, entryCount: 5, isClosed: true },
      ]); // prettier-ignore
    },
  },
  {
    name: '[REC8] the short list says of every case how far it has come; the latest so many are the newest',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      expectOk(
        await store.append(CASE_A, [
          makeEntry(CASE_A, 3, { type: 'case.closed', data: { outcome: 'finished' } }),
        ]),
      );
      const later = makeOpening(CASE_B, 'rehearsal', DAY_MS + 60_000);
      expectOk(await store.append(CASE_B, [later]));
      const heads = [...expectOk(await store.listHeads())].sort(
        (a, b) => b.entryCount - a.entryCount,
      );
      expectEqual(heads, [
        { caseId: CASE_A, openedAt: DAY_MS, entryCount: 4, isClosed: true },
        { caseId: CASE_B, openedAt: later.at, entryCount: 1, isClosed: false },
      ]);
      const whole = expectOk(await store.listCases());
      expectEqual(expectOk(await store.listCases(1)), whole.slice(0, 1));
      expectEqual(expectOk(await store.listCases(9)), whole);
    },
  },
  {
    name: '[REC8] the short list has cases without a head, wherever they stand, and they go on',
    run: async (harness) => {
      const store = await harness.open();
      const [opening, ...rest] = makeCase(CASE_A, 3);
      const closing = makeEntry(CASE_A, 3, {
        type: 'case.closed',
        data: { outcome: 'finished' },
      });
      for (const [seq, entry] of [opening, ...rest, closing].entries())
        await harness.plant(CASE_A, seq, entry);
      const later = makeOpening(CASE_B, 'rehearsal', DAY_MS + 60_000);
      await harness.plant(CASE_B, 0, later);
      const byId = async () =>
        [...expectOk(await store.listHeads())].sort((a, b) => (a.caseId < b.caseId ? -1 : 1));
      const expected = [
        { caseId: CASE_A, openedAt: DAY_MS, entryCount: 4, isClosed: true },
        { caseId: CASE_B, openedAt: later.at, entryCount: 1, isClosed: false },
      ];
      const heads = await byId();
      // Made once, then kept: the second time says the same.
      for (const found of [heads, await byId()])
        expectEqual(
          found.map(({ caseId, openedAt, entryCount, isClosed }) => ({ caseId, openedAt, entryCount, isClosed })),
          expected,
        ); // prettier-ignore
      expectEqual(
        expectOk(await store.listCases(9)).map(({ caseId }) => caseId),
        [CASE_B, CASE_A],
      );
      expectOk(await store.append(CASE_B, [makeOffer(CASE_B, 1, 1)]));
      expectEqual(
        (await byId()).map(({ entryCount }) => entryCount),
        [4, 2],
      );
      expectEqual(expectOk(await store.read(CASE_A)).isReadOnly, false);
    },
  },
  {
    name: '[REC8] lists a case even where its opening can’t be read',
    run: async (harness) => {
      const store = await harness.open();
      await harness.plant(CASE_A, 0, 'not an entry');
      const [summary] = expectOk(await store.listCases());
      expectEqual([summary?.caseId, summary?.openedAt, summary?.mode], [CASE_A, null, null]);
      expectEqual(expectOk(await store.read(CASE_A)).problem?.code, 'record-unreadable');
    },
  },
  {
    name: '[REC9] another window finds every entry that was acknowledged',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 8)));
      const restarted = await harness.reopen();
      expectEqual(expectOk(await restarted.read(CASE_A)).entries, makeCase(CASE_A, 8));
      expectOk(await restarted.append(CASE_A, [makeOffer(CASE_A, 8, 8)]));
    },
  },
  {
    name: '[REC10] holds, for any batches at all, exactly those that were next',
    run: async (harness) => {
      const Batch = fc.record({
        isA: fc.boolean(),
        start: fc.nat({ max: 12 }),
        length: fc.nat({ max: 5 }),
        value: fc.integer(),
      });
      let round = 0;
      await fc.assert(
        fc.asyncProperty(fc.array(Batch, { maxLength: 12 }), async (batches) => {
          const store = await harness.open();
          round += 1;
          const caseIds = ['a', 'b'].map((name) => asId<CaseId>(`${name}-${round}`));
          const model = new Map<CaseId, Entry[]>();
          for (const { isA, start, length, value } of batches) {
            const caseId = caseIds[isA ? 0 : 1] as CaseId;
            const kept = model.get(caseId) ?? [];
            // Half of the batches are made to fit, or hardly one of them would.
            const from = value % 2 === 0 ? kept.length : start;
            const batch = Array.from({ length }, (_, i) => makeOffer(caseId, from + i, value));
            const result = await store.append(caseId, batch);
            const isNext = length === 0 || from === kept.length;
            expectEqual(result.ok, isNext);
            if (isNext && length > 0) model.set(caseId, [...kept, ...batch]);
          }
          for (const [caseId, entries] of model) {
            expectEqual(expectOk(await store.read(caseId)).entries, entries);
          }
        }),
        { numRuns: 40 },
      );
    },
  },
  {
    name: '[REC21] seals each entry with the one before it, so that the whole case is fixed by its last hash',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      expectOk(await (await harness.reopen()).append(CASE_A, [makeOffer(CASE_A, 3, 24)]));
      const { seal } = expectOk(await store.read(CASE_A));
      const stored = await harness.dumpSealed(CASE_A);
      const hashes = stored.map((value) => (value as { hash: string }).hash);
      expectEqual(new Set(hashes.map((hash) => hash.length)), new Set([64]));
      expectEqual(seal, { brokenAt: [], sealedFrom: 0, hash: hashes.at(-1) });
    },
  },
  {
    name: '[REC22] finds an entry that was changed, taken out or moved, and says where',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 6)));
      const stored = await harness.dumpSealed(CASE_A);
      const brokenAt = async (): Promise<readonly number[]> =>
        expectOk(await store.read(CASE_A)).seal.brokenAt;
      await harness.overwrite(CASE_A, 2, { ...(stored[2] as object), at: DAY_MS });
      expectEqual(await brokenAt(), [2]);
      // Two entries change places, each with its position put right.
      await harness.overwrite(CASE_A, 2, { ...(stored[3] as object), seq: 2 });
      await harness.overwrite(CASE_A, 3, { ...(stored[2] as object), seq: 3 });
      expectEqual(await brokenAt(), [2, 3, 4]);
      await harness.overwrite(CASE_A, 2, stored[2]);
      await harness.overwrite(CASE_A, 3, stored[3]);
      expectEqual(await brokenAt(), []);
      await harness.overwrite(CASE_A, 4, undefined);
      expectEqual(await brokenAt(), [4, 5]);
    },
  },
  {
    name: '[REC23] puts a damaged end beside the case, unchanged, and the case goes on',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      await harness.plant(CASE_A, 3, { seq: 3, type: 'capture.offered' });
      await harness.plant(CASE_A, 4, makeOffer(CASE_A, 4, 4));
      expectEqual(expectOk(await store.setAside(CASE_A, 3)), 2);
      expectOk(await store.append(CASE_A, [makeOffer(CASE_A, 3, 20)]));
      const read = expectOk(await store.read(CASE_A));
      expectEqual([read.problem, read.isReadOnly, read.seal.brokenAt], [null, false, []]);
      expectEqual(read.entries.length, 4);
    },
  },
  {
    name: '[REC24] a removed case is gone, and a tombstone says what there was',
    run: async (harness) => {
      const store = await harness.open();
      expectOk(await store.append(CASE_A, makeCase(CASE_A, 3)));
      const { hash } = expectOk(await store.read(CASE_A)).seal;
      const stone = expectOk(await store.remove(CASE_A, DAY_MS + 5000));
      const expected = {
        caseId: CASE_A,
        openedAt: DAY_MS,
        removedAt: DAY_MS + 5000,
        entryCount: 3,
        hash,
      };
      expectEqual(stone, expected);
      expectEqual(expectOk(await store.listRemoved()), [expected]);
      expectEqual(expectFault(await store.read(CASE_A)).code, 'case-unknown');
      expectEqual(expectOk(await store.listCases()), []);
      expectEqual(expectFault(await store.remove(CASE_A, DAY_MS)).code, 'case-unknown');
    },
  },
  ...casePartSuite,
];
