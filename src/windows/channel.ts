/**
 * A channel that reaches every other window of the product on this machine, and not
 * the sender. The port, and the browser's own channel behind it. Windows may run
 * different versions: a message of another protocol is not for this one.
 */

/** What goes over the channel: a kind, and whatever belongs to it. */
export interface Message {
  readonly kind: string;
}

export interface Channel {
  post(message: Message): void;
  /** Calls back for each message of another window. Returns the function that calls it off. */
  listen(callback: (message: Message) => void): () => void;
  close(): void;
}

/** Raised when messages change so that an older window would misread them. */
const PROTOCOL = 1;

/** The browser's channel, shared by all windows of one origin (HTML, "Broadcasting to other browsing contexts"). */
export function createWebChannel(name: string): Channel {
  const channel = new BroadcastChannel(`${name}/${PROTOCOL}`);
  return {
    post: (message) => channel.postMessage(message),
    listen: (callback) => {
      const listener = ({ data }: MessageEvent<Message>): void => callback(data);
      channel.addEventListener('message', listener);
      return () => channel.removeEventListener('message', listener);
    },
    close: () => channel.close(),
  };
}
