/** The shelf of procedures joined to the browser: its worker, its downloads, its dry run. */
import { asId } from '../../domain';
import type { CaseId, Clock, RunId, Scheduler } from '../../domain';
import { createMemoryStore } from '../../record';
import { CaseSession } from '../../session';
import type { CaseSettings } from '../../session';
import type { CheckNews, ProcedureShelf } from '../../ui';
import type { CheckRequest } from './procedure-check.worker';
import type { ShelfCore } from './procedure-shelf';
import { saveFile } from '../keeping/save-file';

/** Where the listener's dictionary lies below the site's base. */
const DICTIONARY = 'voice/model/en-us/dict.txt';
/** In a dry run somebody reads, and a read-back waits for them. */
const DRY_LAPSE_MS = 600_000;

export interface DryPorts {
  readonly clock: Clock;
  readonly scheduler: Scheduler;
  readonly run: RunId;
  readonly settings: CaseSettings;
}

/** Adds to the shelf what needs the browser; `startWorker` is called for each check. */
export function createProcedureShelf(
  core: ShelfCore,
  ports: DryPorts,
  baseUrl: string,
  startWorker: () => Worker,
): ProcedureShelf {
  return {
    ...core,
    check: (data, tell) => {
      const worker = startWorker();
      const stop = () => {
        worker.terminate();
      };
      worker.addEventListener('message', ({ data: news }: MessageEvent<CheckNews>) => {
        if (news.kind !== 'faults' || news.faults.length > 0) stop();
        tell(news);
      });
      worker.addEventListener('error', ({ message }) => {
        stop();
        tell({ kind: 'failed', detail: message });
      });
      const request: CheckRequest = { data, dictionary: new URL(DICTIONARY, baseUrl).href };
      worker.postMessage(request);
      return stop;
    },
    save: (id) => {
      const file = core.read(id);
      if (!file.ok) return file.error;
      saveFile(`${id}.json`, 'application/json', file.value.text);
      return null;
    },
    dryRun: (data) => openDryRun(data, ports),
  };
}

/** A case on a store that nobody reads: it is gone with the screen that shows it. */
function openDryRun(
  data: unknown,
  { settings, ...ports }: DryPorts,
): ReturnType<ProcedureShelf['dryRun']> {
  const { id } = data as { readonly id: string };
  return CaseSession.open(
    { ...ports, store: createMemoryStore() },
    { ...settings, lapseMs: DRY_LAPSE_MS },
    asId<CaseId>('dry-run'),
    {
      procedureId: asId(id),
      procedure: data,
      mode: 'rehearsal',
      side: 'right',
      roles: [],
      plan: {},
    },
  );
}
