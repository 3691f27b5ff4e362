/** The window's side of the review's worker: starts it when somebody looks, and gives back answers. */
import { fault } from '../domain';
import type { Fault } from '../domain';
import { CaseTable, listChoices } from '../review';
import type { ManyAnswer } from '../review';
import type { ManyCasesService, ManyFile, ManyState } from '../ui';
import type { ReviewReply, ReviewRequest } from './review-messages';
import { saveFile } from './save-file';

/** Enough for every chart to have something to say. */
const DEMO_COUNT = 120;
const FILE_NAMES: Readonly<Record<ManyFile, readonly [string, string]>> = {
  'cases-csv': ['cases.csv', 'text/csv'],
  'phases-csv': ['phases.csv', 'text/csv'],
  json: ['review.json', 'application/json'],
};

const LOCKED: ManyState = {
  progress: null,
  stopped: null,
  fault: fault('record-locked'),
  caseCount: 0,
  choices: listChoices(new CaseTable()),
  revision: 0,
};

/**
 * Makes the service; `startWorker` is called at the first look. While `isLocked` says so
 * nothing is shown and no file is made; `lockKey` lets the worker read what lies under the lock.
 */
export function createManyCases(
  startWorker: () => Worker,
  isLocked: () => Promise<boolean>,
  lockKey: () => CryptoKey | null = () => null,
): ManyCasesService {
  let worker: Worker | null = null;
  let next = 0;
  const waiting = new Map<number, (reply: ReviewReply) => void>();
  const watchers = new Set<(state: ManyState) => void>();

  const post = (request: ReviewRequest) => {
    if (!worker) {
      worker = startWorker();
      worker.addEventListener('message', ({ data }: MessageEvent<ReviewReply>) => {
        if (data.kind === 'state') for (const watcher of watchers) watcher(data.state);
        else {
          waiting.get(data.id)?.(data);
          waiting.delete(data.id);
        }
      });
    }
    worker.postMessage(request);
  };
  /** What a worker has read under the lock goes with it. */
  const end = () => {
    worker?.terminate();
    worker = null;
    for (const [id, answer] of waiting) answer({ kind: 'done', id, fault: fault('record-locked') });
    waiting.clear();
  };
  const ask = (make: (id: number) => ReviewRequest) =>
    new Promise<ReviewReply>((resolve) => {
      const id = ++next;
      waiting.set(id, resolve);
      post(make(id));
    });
  const settle = async (make: (id: number) => ReviewRequest): Promise<Fault | null> => {
    const reply = await ask(make);
    return reply.kind === 'done' ? reply.fault : null;
  };

  return {
    watch: (callback) => {
      let isWatching = true;
      void isLocked().then((locked) => {
        if (!isWatching) return;
        if (locked) {
          end();
          callback(LOCKED);
        } else {
          watchers.add(callback);
          post({ kind: 'load', key: lockKey() });
        }
      });
      return () => {
        isWatching = false;
        watchers.delete(callback);
      };
    },
    cancel: () => {
      post({ kind: 'cancel' });
    },
    resume: async () =>
      (await isLocked()) ? fault('record-locked') : settle((id) => ({ kind: 'resume', id })),
    look: async (question): Promise<ManyAnswer | null> => {
      if (await isLocked()) return null;
      const reply = await ask((id) => ({ kind: 'look', id, question }));
      return reply.kind === 'looked' ? reply.answer : null;
    },
    save: async (filter, file) => {
      if (await isLocked()) return fault('record-locked');
      const reply = await ask((id) => ({ kind: 'file', id, filter, file }));
      const [name, type] = FILE_NAMES[file];
      // A file that is not of real cases says so in its name.
      const prefix = filter.mode === 'real' ? '' : `${filter.mode}-`;
      if (reply.kind === 'file') saveFile(`${prefix}${name}`, type, reply.text);
      return null;
    },
    bring: async (text) =>
      (await isLocked()) ? fault('record-locked') : settle((id) => ({ kind: 'bring', id, text })),
    mark: async (mark) =>
      (await isLocked()) ? fault('record-locked') : settle((id) => ({ kind: 'mark', id, mark })),
    unmark: async (mark) =>
      (await isLocked()) ? fault('record-locked') : settle((id) => ({ kind: 'unmark', id, mark })),
    addDemo: async () =>
      (await isLocked())
        ? fault('record-locked')
        : settle((id) => ({ kind: 'demo', id, count: DEMO_COUNT })),
  };
}
