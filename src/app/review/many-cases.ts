/** The window's side of the review's worker: starts it when somebody looks, and gives back answers. */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import { CaseTable, listChoices } from '../../review';
import type { Brought, ManyCasesService, ManyFile, ManyState } from '../../ui';
import type { ReviewReply, ReviewRequest } from './review-messages';
import { saveFile } from '../keeping/save-file';

/** Enough for every chart to have something to say. */
const DEMO_COUNT = 120;
const FILE_NAMES: Readonly<Record<ManyFile, readonly [string, string]>> = {
  'cases-csv': ['cases.csv', 'text/csv'],
  'phases-csv': ['phases.csv', 'text/csv'],
  json: ['review.json', 'application/json'],
};

const NOTHING: ManyState = {
  progress: null,
  stopped: null,
  fault: null,
  caseCount: 0,
  unreadCount: 0,
  aside: null,
  hours: null,
  choices: listChoices(new CaseTable()),
  revision: 0,
};

/**
 * Makes the service; `startWorker` is called at the first look. While `isLocked` says so
 * nothing is shown and no file is made; `lockKey` lets the worker read what lies under the lock.
 * A worker that fails answers all who wait with `review-failed`; the next watch starts another.
 */
export function createManyCases(
  startWorker: () => Worker,
  isLocked: () => Promise<boolean>,
  lockKey: () => CryptoKey | null = () => null,
): ManyCasesService {
  let worker: Worker | null = null;
  let failure: Fault | null = null;
  let last = NOTHING;
  let next = 0;
  const waiting = new Map<number, (reply: ReviewReply) => void>();
  const watchers = new Set<(state: ManyState) => void>();

  const tell = (state: ManyState) => {
    last = state;
    for (const watcher of watchers) watcher(state);
  };
  /** Ends the worker; what it has read under the lock goes with it. All who wait are told why. */
  const end = (why: Fault) => {
    worker?.terminate();
    worker = null;
    for (const [id, answer] of waiting) answer({ kind: 'done', id, fault: why });
    waiting.clear();
  };
  const fail = (detail: string) => {
    failure = fault('review-failed', { detail });
    end(failure);
    tell({ ...last, progress: null, fault: failure });
  };
  const start = (): Worker => {
    const started = startWorker();
    started.addEventListener('message', ({ data }: MessageEvent<ReviewReply>) => {
      if (data.kind === 'state') tell(data.state);
      else {
        waiting.get(data.id)?.(data);
        waiting.delete(data.id);
      }
    });
    started.addEventListener('error', ({ message }) => {
      if (worker === started) fail(message || 'its script could not be run');
    });
    started.addEventListener('messageerror', () => {
      if (worker === started) fail('an answer could not be read');
    });
    return started;
  };
  const post = (request: ReviewRequest) => {
    if (request.kind === 'load') failure = null;
    // A worker that has loaded nothing would answer as if there were no cases.
    if (failure) end(failure);
    else {
      worker ??= start();
      worker.postMessage(request);
    }
  };
  const ask = (make: (id: number) => ReviewRequest) =>
    new Promise<ReviewReply>((resolve) => {
      const id = ++next;
      waiting.set(id, resolve);
      post(make(id));
    });
  const settle = async (make: (id: number) => ReviewRequest): Promise<Fault | null> => {
    if (await isLocked()) return fault('record-locked');
    const reply = await ask(make);
    return reply.kind === 'done' ? reply.fault : refuse(reply).error;
  };
  const take = async (
    make: (id: number) => ReviewRequest,
  ): Promise<Result<Brought | null, Fault>> => {
    if (await isLocked()) return err(fault('record-locked'));
    const reply = await ask(make);
    return reply.kind === 'brought' ? reply.result : refuse(reply);
  };

  return {
    watch: (callback) => {
      let isWatching = true;
      void isLocked().then((locked) => {
        if (!isWatching) return;
        if (locked) {
          const why = fault('record-locked');
          end(why);
          last = NOTHING;
          callback({ ...NOTHING, fault: why });
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
    resume: () => take((id) => ({ kind: 'resume', id })),
    look: async (question) => {
      if (await isLocked()) return err(fault('record-locked'));
      const reply = await ask((id) => ({ kind: 'look', id, question }));
      return reply.kind === 'looked' ? ok(reply.answer) : refuse(reply);
    },
    lookBeside: async (question) => {
      if (await isLocked()) return err(fault('record-locked'));
      const reply = await ask((id) => ({ kind: 'look-beside', id, question }));
      return reply.kind === 'looked-beside' ? ok(reply.beside) : refuse(reply);
    },
    save: async (filter, file) => {
      if (await isLocked()) return fault('record-locked');
      const reply = await ask((id) => ({ kind: 'file', id, filter, file }));
      const [name, type] = FILE_NAMES[file];
      // A file that is not of real cases says so in its name.
      const prefix = filter.mode === 'real' ? '' : `${filter.mode}-`;
      if (reply.kind !== 'file') return refuse(reply).error;
      saveFile(`${prefix}${name}`, type, reply.text);
      return null;
    },
    bring: (text) => take((id) => ({ kind: 'bring', id, text })),
    mark: (mark) => settle((id) => ({ kind: 'mark', id, mark })),
    unmark: (mark) => settle((id) => ({ kind: 'unmark', id, mark })),
    keepHours: (hours) => settle((id) => ({ kind: 'hours', id, hours })),
    forgetAside: () => settle((id) => ({ kind: 'forget-aside', id })),
    addDemo: () => settle((id) => ({ kind: 'demo', id, count: DEMO_COUNT })),
  };
}

/** An answer of another kind than was asked for: what it says went wrong. */
function refuse(reply: ReviewReply): Extract<Result<never, Fault>, { ok: false }> {
  const said = reply.kind === 'done' ? reply.fault : null;
  return err(said ?? fault('review-failed', { detail: `answered "${reply.kind}"` }));
}
