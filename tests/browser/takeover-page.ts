/** What runs inside the windows of the takeover tests: the product's own joining of windows over the real record, and a hand that never stops giving orders. */
import { joinWindows } from '../../src/app/windows';
import { asId } from '../../src/domain';
import type { CaseId, RoleId, RunId } from '../../src/domain';
import { createIdbStore, createSnapshotStore } from '../../src/record';
import { describeBuiltIn } from '../../src/session';
import { SAMPLE_SETTINGS } from '../support/sample-case';

/** One order, known by its own label, on the wall clock of the machine. */
export interface GivenOrder {
  readonly label: string;
  readonly sentAt: number;
  readonly answeredAt: number;
  /** Null where it was carried out. */
  readonly refusal: string | null;
}

export interface TakeoverPage {
  isWriter(): boolean;
  /** Opens a case, or waits until this window shows the one that is open; gives its id. */
  openOrFollow(): Promise<CaseId>;
  /** Gives orders one after another until told to stop. */
  giveOrders(window: string): void;
  /** How many of them were answered so far. */
  answered(): number;
  stopGiving(): Promise<readonly GivenOrder[]>;
  /** Labels in the record, in its order, and whether its chain holds. */
  readLabels(caseId: CaseId): Promise<{ labels: readonly string[]; isWhole: boolean }>;
}

const store = createIdbStore({ indexedDB });
const joining = joinWindows({
  store,
  clock: { wallMs: () => Date.now(), monoMs: () => performance.now() },
  scheduler: {
    after: (delayMs, callback) => {
      const timer = setTimeout(callback, delayMs);
      return () => clearTimeout(timer);
    },
  },
  run: asId<RunId>(crypto.randomUUID()),
  settings: SAMPLE_SETTINGS,
  snapshots: createSnapshotStore(store.guard, 'takeover'),
});
let host: Awaited<typeof joining> | null = null;
void joining.then((it) => (host = it));

const given: GivenOrder[] = [];
let giving: Promise<void> = Promise.resolve();
let isGiving = false;

async function giveUntilStopped(window: string): Promise<void> {
  const { current } = await joining;
  if (!current) throw new Error('This window shows no case');
  for (let number = 0; isGiving; number += 1) {
    const label = `${window}-${number}`;
    const sentAt = Date.now();
    const order = { type: 'role.handOver', role: asId<RoleId>('surgeon'), label } as const;
    // The case may have changed hands: what this window shows now takes the order.
    const { refusal } = await ((await joining).current ?? current).submit(order, 'desk');
    given.push({ label, sentAt, answeredAt: Date.now(), refusal: refusal?.code ?? null });
  }
}

const page: TakeoverPage = {
  isWriter: () => host?.isWriter ?? false,
  openOrFollow: async () => {
    const joined = await joining;
    if (!joined.current && joined.isWriter) {
      const card = describeBuiltIn('wrist-plate');
      if (!card.ok) throw new Error(card.error.code);
      const { id, data } = card.value;
      const opened = await joined.open({
        procedureId: asId(id), procedure: data, mode: 'demo', side: 'left', roles: [], plan: {},
      }); // prettier-ignore
      if (!opened.ok) throw new Error(opened.error.code);
    }
    while (!joined.current) await new Promise<void>((resolve) => {
      const stop = joined.watch(() => {
        stop();
        resolve();
      });
    }); // prettier-ignore
    return joined.current.view.caseId;
  },
  giveOrders: (window) => {
    isGiving = true;
    giving = giveUntilStopped(window);
  },
  answered: () => given.length,
  stopGiving: async () => {
    isGiving = false;
    await giving;
    return given.splice(0);
  },
  readLabels: async (caseId) => {
    const read = await store.read(caseId);
    if (!read.ok) throw new Error(read.error.code);
    const { entries, seal, problem } = read.value;
    const labels = entries.flatMap(({ type, data }) => (type === 'role.handedOver' ? [data.label] : [])); // prettier-ignore
    return { labels, isWhole: problem === null && seal.brokenAt.length === 0 };
  },
};

Object.assign(globalThis, { takeoverPage: page });
