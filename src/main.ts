/**
 * Joins the program to the browser: the only place where its clocks, storage,
 * windows and sound are built. Everything else receives them as ports.
 */
import { asId, err, fault, ok } from './domain';
import type { Clock, RunId, Scheduler } from './domain';
import { openRecord } from './record';
import { CaseHost, CaseLog, describeBuiltIn, listProcedures, makeCaseId } from './session';
import type { CaseSettings } from './session';
import { mountApp } from './ui';
import type { AppServices } from './ui';

const clock: Clock = { wallMs: () => Date.now(), monoMs: () => performance.now() };
const scheduler: Scheduler = {
  after: (delayMs, callback) => {
    const timer = setTimeout(callback, delayMs);
    return () => {
      clearTimeout(timer);
    };
  },
};
const run = asId<RunId>(crypto.randomUUID());
const settings: CaseSettings = { addressPhrase: 'theatre wall', lapseMs: 12_000 };

async function start(): Promise<void> {
  const target = document.querySelector<HTMLElement>('#app');
  if (!target) throw new Error('The page has no #app');
  const record = await openRecord(globalThis.indexedDB);
  const host = new CaseHost({ store: record.store, clock, scheduler, run }, settings, () =>
    makeCaseId(clock.wallMs(), crypto.randomUUID().slice(0, 4)),
  );
  await host.resumeOpenCase();
  const services: AppServices = {
    now: () => ({ at: clock.wallMs(), mono: clock.monoMs(), run }),
    procedures: listProcedures(),
    describeProcedure: describeBuiltIn,
    currentCase: () => host.current,
    onCaseChange: (callback) => host.watch(callback),
    openCase: (setup) => host.open(setup),
    leaveCase: () => {
      host.leave();
      return Promise.resolve();
    },
    listCases: async () => {
      const listed = await record.store.listCases();
      return listed.ok
        ? ok(listed.value.map((line) => ({ ...line, title: line.procedureTitle })))
        : listed;
    },
    readCase: async (caseId) => {
      const read = await record.store.read(caseId);
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
          })
        : err(fault('case-unknown', { name: caseId }));
    },
    exportCase: () => Promise.resolve(ok(undefined)),
    isWriter: () => true,
    storageFault: () => record.fault,
    earStatus: () => ({ state: 'off', fault: null, levelDb: null, isGated: false }),
    onEarChange: () => () => undefined,
    startListening: () => Promise.resolve(),
    stopListening: () => Promise.resolve(),
    rehearsalStatus: () => ({ isRunning: false, saying: null, done: 0, total: 0, fault: null }),
    onRehearsalChange: () => () => undefined,
    startRehearsal: () => Promise.resolve(ok(undefined)),
    stopRehearsal: () => Promise.resolve(),
  };
  mountApp(target, services);
}

void start();
