/** What runs inside the page of record.spec.ts: the acceptance suite over the browser's own IndexedDB. */
import { createIdbStore } from '../../src/record';
import { CASE_A, makeOffer, makeOpening } from '../record/entry-samples';
import { idbFailureSuite } from '../record/idb-failure-suite';
import { createIdbHarness } from '../record/idb-tampering';
import { recordStoreSuite } from '../record/record-store-suite';

const suite = [...recordStoreSuite, ...idbFailureSuite];

export interface RecordPage {
  /** Runs one case of the suite; resolves with null, or with why it failed. */
  runCase(name: string): Promise<string | null>;
  /** Appends entries one by one, up to `count`, telling each position once it is acknowledged. */
  appendUntil(count: number): Promise<void>;
  /** Appends entries of about a megabyte until the disk is full; gives how many were taken and the refusal. */
  fillUp(): Promise<{ taken: number; code: string; detail: string }>;
  /** Positions that are in the record now. */
  readSeqs(): Promise<readonly number[]>;
}

/** Called with each acknowledged position; put there by the test. */
declare const acknowledge: (seq: number) => Promise<void>;

/** About a megabyte that the browser can't press together. */
function makeNoise(): string {
  const blocks = Array.from({ length: 16 }, () => crypto.getRandomValues(new Uint8Array(65_536)));
  return blocks.map((block) => String.fromCharCode(...block)).join('');
}

const page: RecordPage = {
  runCase: async (name) => {
    const found = suite.find((it) => it.name === name);
    if (found === undefined) return `no case "${name}"`;
    try {
      await found.run(createIdbHarness(indexedDB));
      return null;
    } catch (reason) {
      return reason instanceof Error ? (reason.stack ?? reason.message) : String(reason);
    }
  },
  appendUntil: async (count) => {
    const store = createIdbStore({ indexedDB });
    for (let seq = 0; seq < count; seq += 1) {
      const entry = seq === 0 ? makeOpening(CASE_A) : makeOffer(CASE_A, seq, seq);
      const appended = await store.append(CASE_A, [entry]);
      if (!appended.ok) throw new Error(JSON.stringify(appended.error));
      await acknowledge(seq);
    }
  },
  fillUp: async () => {
    const store = createIdbStore({ indexedDB });
    for (let seq = 0; ; seq += 1) {
      const large = { ...makeOpening(CASE_A), seq };
      Object.assign(large.data, { roles: [{ role: 'surgeon', label: makeNoise() }] });
      const appended = await store.append(CASE_A, [large]);
      if (!appended.ok) {
        const { code, params } = appended.error;
        return { taken: seq, code, detail: params['detail'] ?? '' };
      }
    }
  },
  readSeqs: async () => {
    const read = await createIdbStore({ indexedDB }).read(CASE_A);
    return read.ok ? read.value.entries.map(({ seq }) => seq) : [];
  },
};

Object.assign(globalThis, { recordPage: page });
