/** What runs inside the page of bench crash: a spoken case on the real store, entry after entry, until it is cut off. */
import { asId } from '../../src/domain';
import type { CaseId, RunId } from '../../src/domain';
import { createBucketPlace, createIdbStore, createSnapshotStore } from '../../src/record';
import type { StorageBuckets } from '../../src/record';
import { CaseSession, describeBuiltIn } from '../../src/session';
import { heardPhrase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

/** How a case was found after a restart. */
export interface FoundCase {
  readonly entries: number;
  readonly isWhole: boolean;
  /** Entries that say that a damaged end was set aside. */
  readonly mended: number;
  readonly isResumed: boolean;
  /** Cases that the second copy gave back. */
  readonly restored: number;
  readonly detail: string;
}

export interface CrashPage {
  /** Reads and takes up the case of that name. */
  find(name: string): Promise<FoundCase>;
  /** Runs a case of that name, from where it stands; tells how many entries are durable. Resolves when it is closed or no more is saved. */
  run(name: string, longest?: number): Promise<'closed' | 'not saved'>;
  /** Resolves when everything that waited in memory is saved; gives how many entries the case has. */
  untilSaved(): Promise<number>;
  /** Resolves when the second copy has everything that was saved. */
  untilCopied(): Promise<void>;
}

/** Entries after which a case is closed and the next one begun. */
const LONGEST = 1_500;

/** Put there by the bench. */
declare const acknowledge: (entries: number) => Promise<void>;

const { storageBuckets } = navigator as { readonly storageBuckets?: StorageBuckets };
const store = createIdbStore({ indexedDB, copyPlace: createBucketPlace(storageBuckets) });
const clock = { wallMs: () => Date.now(), monoMs: () => performance.now() };
const scheduler = {
  after: (delayMs: number, callback: () => void) => {
    const timer = setTimeout(callback, delayMs);
    return () => clearTimeout(timer);
  },
};
const snapshots = createSnapshotStore(store.guard, 'bench');
const ports = { store, clock, scheduler, run: asId<RunId>(crypto.randomUUID()), snapshots };

async function open(name: string): Promise<CaseSession> {
  // As the product starts: what the browser threw away comes back before a case is looked for.
  await store.copy?.restore();
  const caseId = asId<CaseId>(name);
  const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
  if (resumed.ok) return resumed.value;
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error(card.error.code);
  const opened = await CaseSession.open(ports, SAMPLE_SETTINGS, caseId, {
    procedureId: asId(card.value.id),
    procedure: card.value.data,
    mode: 'demo',
    side: 'right',
    roles: [],
    plan: {},
  });
  if (!opened.ok) throw new Error(opened.error.code);
  return opened.value;
}

let running: CaseSession | null = null;

const page: CrashPage = {
  find: async (name) => {
    const restored = (await store.copy?.restore()) ?? 0;
    const caseId = asId<CaseId>(name);
    const read = await store.read(caseId);
    if (!read.ok) return { entries: 0, isWhole: read.error.code === 'case-unknown', mended: 0, isResumed: true, restored, detail: read.error.code }; // prettier-ignore
    const { entries, problem, seal } = read.value;
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
    // A snapshot that the record does not bear out is found by this check.
    const isSound = resumed.ok && (await resumed.value.untilWhole()).ok;
    return {
      entries: entries.length,
      isWhole: problem === null && seal.brokenAt.length === 0,
      mended: entries.filter(({ type }) => type === 'record.mended').length,
      isResumed: isSound,
      restored,
      detail: problem?.params['detail'] ?? '',
    };
  },
  run: async (name, longest = LONGEST) => {
    const session = await open(name);
    running = session;
    const spoken = WHOLE_CASE.filter((words) => !words.startsWith('+'));
    for (let index = 0; session.view.status !== 'closed'; index += 1) {
      const words = index % 7 === 6 ? null : (spoken[index % spoken.length] ?? null);
      await session.hear(heardPhrase(words));
      if (session.view.unsavedCount > 0) return 'not saved';
      void acknowledge(session.view.entryCount);
      if (session.view.entryCount > longest)
        await session.submit({ type: 'case.close', outcome: 'abandoned' }, 'desk');
    }
    return 'closed';
  },
  untilCopied: async () => {
    await store.copy?.settled();
  },
  untilSaved: () =>
    new Promise((resolve) => {
      const look = (): void => {
        if (running?.view.unsavedCount === 0) resolve(running.view.entryCount);
      };
      running?.subscribe(look);
      look();
    }),
};

Object.assign(globalThis, { crashPage: page });
