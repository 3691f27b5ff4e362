/** Followers stay at the writer's place, whatever gets lost on the way. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createEntryFeed } from '../../src/windows';
import { createFakeBrowser } from './fake-windows';

interface Item {
  readonly seq: number;
  readonly text: string;
}

const makeItems = (count: number): Item[] =>
  Array.from({ length: count }, (_, seq) => ({ seq, text: `item ${seq}` }));

function createWriter(browser = createFakeBrowser()) {
  const window = browser.openWindow();
  const feed = createEntryFeed<Item>(window.channel);
  return { browser, window, feed };
}

test('[WIN9] followers get what the writer appends, in order', async () => {
  const { browser, feed } = createWriter();
  const got: Item[] = [];
  createEntryFeed<Item>(browser.openWindow().channel).follow('case-a', 0, (items) =>
    got.push(...items),
  );
  feed.publish('case-a', makeItems(2));
  feed.publish('case-b', makeItems(5));
  feed.publish('case-a', makeItems(4).slice(2));
  await browser.settle();
  expect(got).toEqual(makeItems(4));
});

test('[WIN10] a follower that notices a gap asks, and gets what it missed once', async () => {
  const { browser, feed } = createWriter();
  feed.answerFrom((_, from) => Promise.resolve(makeItems(6).slice(from)));
  const got: Item[] = [];
  createEntryFeed<Item>(browser.openWindow().channel).follow('case-a', 6, (items) =>
    got.push(...items),
  );
  const late: Item[] = [];
  createEntryFeed<Item>(browser.openWindow().channel).follow('case-a', 2, (items) =>
    late.push(...items),
  );
  feed.publish('case-a', makeItems(6).slice(5));
  await browser.settle();
  expect(late).toEqual(makeItems(6).slice(2));
  expect(got).toEqual([]);
});

test('[WIN10] what a dead writer did not tell comes from the next one', async () => {
  const { browser } = createWriter();
  const got: Item[] = [];
  createEntryFeed<Item>(browser.openWindow().channel).follow('case-a', 1, (items) =>
    got.push(...items),
  );
  await browser.settle();
  const next = createWriter(browser);
  next.feed.answerFrom((_, from) => Promise.resolve(makeItems(3).slice(from)));
  await browser.settle();
  expect(got).toEqual(makeItems(3).slice(1));
});

test('[WIN9] news of a case that nobody here follows is told', async () => {
  const { browser, feed } = createWriter();
  const follower = createEntryFeed<Item>(browser.openWindow().channel);
  const others: string[] = [];
  follower.onOtherTopic((topic) => others.push(topic));
  const stop = follower.follow('case-a', 0, () => undefined);
  feed.publish('case-a', makeItems(1));
  feed.publish('case-b', makeItems(1));
  await browser.settle();
  expect(others).toEqual(['case-b']);
  stop();
  feed.publish('case-a', makeItems(1));
  await browser.settle();
  expect(others).toEqual(['case-b', 'case-a']);
});

test('[WIN10] whatever is lost, a follower ends where the writer is, without a repeat', async () => {
  const Losses = fc.array(fc.boolean(), { minLength: 1, maxLength: 20 });
  await fc.assert(
    fc.asyncProperty(Losses, async (losses) => {
      const { browser, feed } = createWriter();
      const all = makeItems(losses.length + 1);
      let published = 0;
      feed.answerFrom((_, from) => Promise.resolve(all.slice(from, published)));
      const got: Item[] = [];
      createEntryFeed<Item>(browser.openWindow().channel).follow('case-a', 0, (items) =>
        got.push(...items),
      );
      for (const isLost of [...losses, false]) {
        published += 1;
        if (!isLost) feed.publish('case-a', all.slice(published - 1, published));
        await browser.settle();
      }
      expect(got).toEqual(all);
    }),
  );
});
