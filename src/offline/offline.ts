/**
 * The window's side of running without the server: registers the worker, asks what it
 * serves, and hands a person's agreement on. Never reloads a window by itself.
 */
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import type { FileStatus } from './file-keeper';
import type { OfflineAnswer, OfflineRequest } from './messages';

export interface Offline {
  /** Which build is served here and whether another lies ready. */
  status(): Promise<Result<FileStatus, Fault>>;
  /** Looks at the server for a newer build and fetches it whole beside the old one. */
  prepare(): Promise<Result<FileStatus, Fault>>;
  /** From the next load on, the build that lies ready. */
  switchOver(): Promise<Result<FileStatus, Fault>>;
}

/** Registers the worker at `scriptUrl`. Faults are given by each call, so that a window runs without it. */
export function createOffline(
  container: ServiceWorkerContainer | undefined,
  scriptUrl: string,
): Offline {
  const registering = container?.register(scriptUrl, { updateViaCache: 'none' });
  // Each call below gives the reason; this only keeps the browser from reporting it twice.
  registering?.catch(() => undefined);

  async function ask(request: OfflineRequest): Promise<Result<FileStatus, Fault>> {
    try {
      if (!container || !registering) return failed('this browser has no service worker');
      await registering;
      const { active } = await container.ready;
      if (!active) return failed('no active worker');
      const answer = await post(active, request);
      return answer.ok ? ok(answer.status) : failed(answer.detail);
    } catch (reason) {
      return failed(String(reason));
    }
  }

  return {
    status: () => ask({ kind: 'offline.status' }),
    prepare: () => ask({ kind: 'offline.prepare' }),
    switchOver: () => ask({ kind: 'offline.switch' }),
  };
}

function post(worker: ServiceWorker, request: OfflineRequest): Promise<OfflineAnswer> {
  const { port1, port2 } = new MessageChannel();
  return new Promise((resolve) => {
    port1.onmessage = ({ data }: MessageEvent<OfflineAnswer>) => {
      port1.close();
      resolve(data);
    };
    worker.postMessage(request, [port2]);
  });
}

function failed(detail: string): Result<never, Fault> {
  return err(fault('offline-failed', { detail }));
}
