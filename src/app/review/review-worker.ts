/** Starts the worker of the look back; before anybody asks where the page opens on it, since its script and what it keeps take a while to read. */

const LOOK_BACK = /^#\/?review\/?$/;

/** Gives what starts the worker; called first thing, with the address that the page opens on. */
export function prepareReviewWorker(hash: string): () => Worker {
  const start = () =>
    new Worker(new URL('./review.worker.ts', import.meta.url), { type: 'module' });
  let early = LOOK_BACK.test(hash) ? start() : null;
  // One that fails before anybody listens is of no use; another one is started where it can be heard.
  early?.addEventListener('error', () => (early = null));
  return () => {
    const worker = early ?? start();
    early = null;
    return worker;
  };
}
