/** This window's place among the others: the browser's lock and channel, and the shared case. */
import { err, fault, ok } from '../domain';
import type { Clock, Entry, Result, RunId, Scheduler } from '../domain';
import type { RecordStore } from '../record';
import { CaseLog, makeCaseId, SharedHost } from '../session';
import type { CaseSettings, SessionPorts, WindowReply, WindowRequest } from '../session';
import type { CaseLine, CaseRecord } from '../ui';
import {
  createEntryFeed, createOrderRelay, createWebChannel, createWebLock, createWriterElection,
} from '../windows'; // prettier-ignore
import type { CaseId, Fault } from '../domain';

/** What all windows of this origin agree on. */
const SHARED_NAME = 'cuewall';
/** How long an order may wait for the window that writes, in milliseconds. */
const ORDER_TIMEOUT_MS = 3_000;

export interface WindowParts {
  readonly store: RecordStore;
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  readonly run: RunId;
  readonly settings: CaseSettings;
  readonly snapshots?: SessionPorts['snapshots'];
  readonly report?: SessionPorts['report'];
}

/** Joins the other windows; the host can show the current case when this resolves. */
export async function joinWindows({
  store,
  clock,
  scheduler,
  run,
  settings,
  snapshots,
  report,
}: WindowParts): Promise<SharedHost> {
  const channel = createWebChannel(SHARED_NAME);
  const host: SharedHost = new SharedHost(
    { store, clock, scheduler, run, snapshots, ...(report ? { report } : {}) },
    {
      channel,
      election: createWriterElection(createWebLock(navigator.locks), SHARED_NAME),
      relay: createOrderRelay<WindowRequest, WindowReply>({
        channel,
        clock,
        scheduler,
        newId: () => crypto.randomUUID(),
        timeoutMs: ORDER_TIMEOUT_MS,
        recall: (id) => Promise.resolve(host.recall(id)),
      }),
      feed: createEntryFeed<Entry>(channel),
    },
    settings,
    () => makeCaseId(clock.wallMs(), crypto.randomUUID().slice(0, 4)),
  );
  await host.join();
  return host;
}

/** The cases, or the latest so many, as the screens list them. */
export async function listCaseLines(
  store: RecordStore,
  latest?: number,
): Promise<Result<readonly CaseLine[], Fault>> {
  const listed = await store.listCases(latest);
  return listed.ok
    ? ok(listed.value.map((line) => ({ ...line, title: line.procedureTitle })))
    : listed;
}

/** A case from the record, with what the review needs to read it. */
export async function readCaseRecord(
  store: RecordStore,
  settings: CaseSettings,
  caseId: CaseId,
): Promise<Result<CaseRecord, Fault>> {
  const read = await store.read(caseId);
  if (!read.ok) return read;
  const log = CaseLog.rebuild(read.value.entries, settings);
  if (!log.ok) return log;
  const { compiled, setup } = log.value;
  return setup
    ? ok({
        entries: read.value.entries,
        outline: compiled.outline,
        setup,
        problem: read.value.problem,
        seal: read.value.seal,
      })
    : err(fault('case-unknown', { name: caseId }));
}
