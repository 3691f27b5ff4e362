/** Orders between windows: answered once, carried out at most once, never left hanging. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createOrderRelay } from '../../src/windows';
import type { OrderRelay } from '../../src/windows';
import type { Fault, Result } from '../../src/domain';
import { createFakeBrowser } from './fake-windows';
import type { FakeBrowser, FakeWindow } from './fake-windows';

const TIMEOUT_MS = 4000;

interface Member extends FakeWindow {
  readonly relay: OrderRelay<string, string>;
  /** What this window carried out as the writer. */
  readonly done: string[];
  serve(): () => void;
}

function createTeam(browser: FakeBrowser = createFakeBrowser()) {
  let ids = 0;
  const applied: string[] = [];
  function join(recall?: (id: string) => Promise<string | null>): Member {
    const window = browser.openWindow();
    const done: string[] = [];
    const relay = createOrderRelay<string, string>({
      channel: window.channel,
      clock: browser.clock,
      scheduler: browser.scheduler,
      newId: () => `order-${(ids += 1)}`,
      timeoutMs: TIMEOUT_MS,
      ...(recall === undefined ? {} : { recall }),
    });
    const serve = () =>
      relay.serve((request) => {
        done.push(request);
        applied.push(request);
        return Promise.resolve(`did ${request}`);
      });
    return { ...window, relay, done, serve };
  }
  return { browser, applied, join };
}

/** Collects what a promise comes to, without waiting for it. */
function watch(answer: Promise<Result<string, Fault>>): Result<string, Fault>[] {
  const seen: Result<string, Fault>[] = [];
  void answer.then((result) => seen.push(result));
  return seen;
}

test('[WIN4] a follower’s order reaches the writer and the answer comes back', async () => {
  const { browser, join } = createTeam();
  const [writer, follower, bystander] = [join(), join(), join()];
  writer.serve();
  const answer = watch(follower.relay.send('finish step'));
  await browser.settle();
  expect(answer).toEqual([{ ok: true, value: 'did finish step' }]);
  expect([writer.done, follower.done, bystander.done]).toEqual([['finish step'], [], []]);
});

test('[WIN4] the writer’s own orders take the same way, one at a time and in order', async () => {
  const { browser, join } = createTeam();
  const [writer, follower] = [join(), join()];
  const log: string[] = [];
  writer.relay.serve(async (request) => {
    log.push(`${request} begins`);
    await Promise.resolve();
    log.push(`${request} ends`);
    return request;
  });
  watch(writer.relay.send('one'));
  watch(follower.relay.send('two'));
  watch(writer.relay.send('three'));
  await browser.settle();
  expect(log.map((line) => line.split(' ')[1])).toEqual(Array(3).fill(['begins', 'ends']).flat());
});

test('[WIN5] the same order arriving twice is carried out once and answered twice', async () => {
  const { browser, join } = createTeam();
  const [writer, follower, other] = [join(), join(), join()];
  writer.serve();
  const replies: unknown[] = [];
  other.channel.listen((message) => replies.push(message));
  const request = { kind: 'relay.request', id: 'same', request: 'drill', validUntilMs: 1000 };
  follower.channel.post(request);
  follower.channel.post(request);
  await browser.settle();
  expect(writer.done).toEqual(['drill']);
  expect(replies.filter((reply) => JSON.stringify(reply).includes('did drill'))).toHaveLength(2);
});

test('[WIN6] orders without an answer go to the next writer under their id, and are carried out', async () => {
  const { browser, applied, join } = createTeam();
  const [first, second, follower] = [join(), join(), join()];
  first.serve();
  first.kill();
  const answers = [follower.relay.send('one'), second.relay.send('two')].map(watch);
  await browser.settle();
  expect(answers).toEqual([[], []]);
  second.serve();
  await browser.settle();
  expect(answers.flat().map((answer) => answer.ok && answer.value)).toEqual(['did one', 'did two']);
  expect([...applied].sort()).toEqual(['one', 'two']);
});

test('[WIN6] an order that the old writer answered is not carried out again by the next one', async () => {
  const { browser, applied, join } = createTeam();
  const [first, second, follower] = [join(), join(), join()];
  first.serve();
  watch(follower.relay.send('one'));
  await browser.settle();
  first.kill();
  second.serve();
  const again = { kind: 'relay.request', id: 'order-1', request: 'one', validUntilMs: 1000 };
  follower.channel.post(again);
  await browser.settle();
  expect(applied).toEqual(['one']);
});

test('[WIN6] an order that a dead writer recorded but did not answer is found in the record', async () => {
  const { browser, applied, join } = createTeam();
  const first = join();
  const second = join((id) => Promise.resolve(id === 'order-1' ? 'did one' : null));
  const follower = join();
  first.relay.serve((request) => {
    applied.push(request);
    first.kill();
    return Promise.resolve(`did ${request}`);
  });
  const answer = watch(follower.relay.send('one'));
  await browser.settle();
  second.serve();
  await browser.settle();
  expect(answer).toEqual([{ ok: true, value: 'did one' }]);
  expect(applied).toEqual(['one']);
});

test('[WIN7] an order that nobody takes comes back as unreachable, once its time is over', async () => {
  const { browser, join } = createTeam();
  const follower = join();
  const answer = watch(follower.relay.send('finish step'));
  browser.advance(TIMEOUT_MS);
  await browser.settle();
  expect(answer).toEqual([]);
  browser.advance(500);
  await browser.settle();
  const params = { timeoutMs: String(TIMEOUT_MS) };
  expect(answer).toEqual([{ ok: false, error: { code: 'window-unreachable', params } }]);
});

test('[WIN7] an order that was reported as not carried out is not carried out later', async () => {
  const { browser, join } = createTeam();
  const [sleeper, follower] = [join(), join()];
  sleeper.serve();
  watch(follower.relay.send('drill'));
  // The writer's window was frozen: the message is delivered only after its time.
  browser.advance(TIMEOUT_MS + 500);
  await browser.settle();
  expect(sleeper.done).toEqual([]);
});

test('[WIN7] closing a window answers what still waits', async () => {
  const { browser, join } = createTeam();
  const follower = join();
  const answer = watch(follower.relay.send('finish step'));
  follower.relay.close();
  await browser.settle();
  expect(answer.map((result) => result.ok)).toEqual([false]);
});

test('[WIN3] a window that is no longer the writer carries out nothing', async () => {
  const { browser, join } = createTeam();
  const [former, follower] = [join(), join()];
  const stop = former.serve();
  stop();
  watch(follower.relay.send('drill'));
  await browser.settle();
  expect(former.done).toEqual([]);
});

test('[WIN8] whatever dies and whatever is sent: each order is carried out at most once, and exactly once when its answer came', async () => {
  const Event = fc.oneof(
    fc.record({ type: fc.constant('send' as const), from: fc.nat({ max: 5 }) }),
    fc.constant({ type: 'kill writer' as const }),
    fc.constant({ type: 'settle' as const }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(Event, { maxLength: 25 }), async (events) => {
      const { browser, applied, join } = createTeam();
      const alive = Array.from({ length: 6 }, () => join());
      alive[0]?.serve();
      const sent = new Map<string, Result<string, Fault>[]>();
      for (const event of events) {
        if (event.type === 'settle') await browser.settle();
        else if (event.type === 'send') {
          const request = `order ${sent.size}`;
          const from = alive[event.from % alive.length];
          if (from !== undefined) sent.set(request, watch(from.relay.send(request)));
        } else if (alive.length > 1) {
          // Between messages only: what happens inside one is the documented limit.
          await browser.settle();
          alive.shift()?.kill();
          alive[0]?.serve();
        }
      }
      await browser.settle();
      for (const [request, answers] of sent) {
        const times = applied.filter((done) => done === request).length;
        expect(times).toBeLessThanOrEqual(1);
        expect(answers.filter(({ ok }) => ok)).toHaveLength(times);
      }
    }),
    { numRuns: 150 },
  );
});
