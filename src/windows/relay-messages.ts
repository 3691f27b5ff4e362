/**
 * What windows say to each other about orders.
 */
import type { Message } from './channel';

/** One order on its way. The same id always means the same order. */
export type RequestId = string;

export type RelayMessage<Request, Reply> =
  | {
      readonly kind: 'relay.request';
      readonly id: RequestId;
      readonly request: Request;
      /** Wall time in milliseconds after which the order must not be carried out any more. */
      readonly validUntilMs: number;
    }
  | { readonly kind: 'relay.reply'; readonly id: RequestId; readonly reply: Reply }
  /** A new writer is ready: what has no answer may be sent again. */
  | { readonly kind: 'relay.serving' };

const KINDS: ReadonlySet<string> = new Set<RelayMessage<never, never>['kind']>([
  'relay.request',
  'relay.reply',
  'relay.serving',
]);

/** Whether a message is about orders. */
export function isRelayMessage<Request, Reply>(
  message: Message,
): message is RelayMessage<Request, Reply> {
  return KINDS.has(message.kind);
}
