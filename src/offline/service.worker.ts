/**
 * The service worker: answers the windows from the kept files, and does what they ask.
 * It takes over at once, because which build it serves does not depend on it.
 */
import { createFileKeeper } from './file-keeper';
import type { FileStatus } from './file-keeper';
import type { OfflineAnswer, OfflineRequest } from './messages';

const worker = globalThis as unknown as ServiceWorkerGlobalScope;
const keeper = createFileKeeper({
  caches: worker.caches,
  fetch: (input, init) => worker.fetch(input, init),
});

worker.addEventListener('install', (event) => {
  event.waitUntil(keeper.prepare().then(() => worker.skipWaiting()));
});
worker.addEventListener('activate', (event) => {
  event.waitUntil(worker.clients.claim());
});
worker.addEventListener('fetch', (event) => {
  if (new URL(event.request.url).origin !== worker.location.origin) return;
  event.respondWith(keeper.answer(event.request));
});
worker.addEventListener('message', (event) => {
  const { kind } = event.data as OfflineRequest;
  const work: Record<OfflineRequest['kind'], () => Promise<FileStatus>> = {
    'offline.status': keeper.status,
    'offline.prepare': keeper.prepare,
    'offline.switch': keeper.switchOver,
  };
  const reply = (answer: OfflineAnswer): void => event.ports[0]?.postMessage(answer);
  event.waitUntil(
    work[kind]().then(
      (status) => reply({ ok: true, status }),
      (reason: unknown) => reply({ ok: false, detail: String(reason) }),
    ),
  );
});
