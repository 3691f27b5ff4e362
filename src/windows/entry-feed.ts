/**
 * Keeps every window at the same place in a case. The writer publishes what it has
 * appended; a follower takes items in order, drops what it has, and asks for what it
 * missed. A topic is one case. Carries any item with a position; appends nothing.
 */
import type { Channel, Message } from './channel';

export interface Numbered {
  /** Position in the topic, from 0, without gaps. */
  readonly seq: number;
}

type FeedMessage<Item> =
  | { readonly kind: 'feed.items'; readonly topic: string; readonly items: readonly Item[] }
  | { readonly kind: 'feed.missing'; readonly topic: string; readonly from: number }
  /** A writer answers from now on: who may have missed something asks again. */
  | { readonly kind: 'feed.answering' };

export interface EntryFeed<Item extends Numbered> {
  /** The writer tells what it has appended, in order. */
  publish(topic: string, items: readonly Item[]): void;
  /** The writer answers windows that missed something. Returns the function that calls it off. */
  answerFrom(read: (topic: string, from: number) => Promise<readonly Item[]>): () => void;
  /** Follows a topic from a position on; asks at once for what may have been missed. */
  follow(topic: string, from: number, onItems: (items: readonly Item[]) => void): () => void;
  /** Calls back when items of a topic arrive that this window does not follow. */
  onOtherTopic(callback: (topic: string) => void): () => void;
}

/** Joins this window to the feed on the channel. */
export function createEntryFeed<Item extends Numbered>(channel: Channel): EntryFeed<Item> {
  const followed = new Set<string>();
  const post = (message: FeedMessage<Item>): void => channel.post(message);

  function listen(callback: (message: FeedMessage<Item>) => void): () => void {
    return channel.listen((message) => {
      if (isFeedMessage<Item>(message)) callback(message);
    });
  }

  return {
    publish: (topic, items) => post({ kind: 'feed.items', topic, items }),
    answerFrom: (read) => {
      const stop = listen((message) => {
        if (message.kind !== 'feed.missing') return;
        const { topic, from } = message;
        void read(topic, from).then((items) => {
          if (items.length > 0) post({ kind: 'feed.items', topic, items });
        });
      });
      post({ kind: 'feed.answering' });
      return stop;
    },
    follow: (topic, from, onItems) => {
      let next = from;
      const ask = (): void => post({ kind: 'feed.missing', topic, from: next });
      followed.add(topic);
      const stop = listen((message) => {
        if (message.kind === 'feed.answering') ask();
        if (message.kind !== 'feed.items' || message.topic !== topic) return;
        const fresh = message.items.filter(({ seq }) => seq >= next);
        const [first] = fresh;
        if (first === undefined) return;
        if (first.seq > next) {
          ask();
          return;
        }
        next += fresh.length;
        onItems(fresh);
      });
      ask();
      return () => {
        followed.delete(topic);
        stop();
      };
    },
    onOtherTopic: (callback) =>
      listen((message) => {
        if (message.kind === 'feed.items' && !followed.has(message.topic)) callback(message.topic);
      }),
  };
}

function isFeedMessage<Item>(message: Message): message is FeedMessage<Item> & Message {
  return message.kind.startsWith('feed.');
}
