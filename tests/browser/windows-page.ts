/** What runs inside the pages of windows.spec.ts: election, relay and feed over the browser's own locks and channel. */
import {
  createEntryFeed,
  createOrderRelay,
  createWebChannel,
  createWebLock,
  createWriterElection,
} from '../../src/windows';

interface Item {
  readonly seq: number;
  readonly text: string;
}

export interface WindowsPage {
  isWriter(): boolean;
  /** Sends an order; gives the answer, or the code of the fault. */
  send(order: string): Promise<string>;
  /** What this window has carried out. */
  readonly done: readonly string[];
  /** What this window has learnt of the case. */
  readonly items: readonly Item[];
}

const lock = createWebLock(navigator.locks);
const channel = createWebChannel('test');
const election = createWriterElection(lock, 'test-writer');
const relay = createOrderRelay<string, string>({
  channel,
  clock: { wallMs: () => Date.now(), monoMs: () => performance.now() },
  scheduler: {
    after: (delayMs, callback) => {
      const timer = setTimeout(callback, delayMs);
      return () => clearTimeout(timer);
    },
  },
  newId: () => crypto.randomUUID(),
  timeoutMs: 20_000,
});
const feed = createEntryFeed<Item>(channel);
const done: string[] = [];
const items: Item[] = [];

feed.follow('case', 0, (news) => items.push(...news));
election.onElected(() => {
  feed.answerFrom((_, from) => Promise.resolve(items.slice(from)));
  relay.serve((order) => {
    const item = { seq: items.length, text: order };
    done.push(order);
    items.push(item);
    feed.publish('case', [item]);
    return Promise.resolve(`did ${order}`);
  });
});

const page: WindowsPage = {
  isWriter: () => election.isWriter(),
  send: async (order) => {
    const answer = await relay.send(order);
    return answer.ok ? answer.value : answer.error.code;
  },
  done,
  items,
};

Object.assign(globalThis, { windowsPage: page });
