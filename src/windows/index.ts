/**
 * Several windows, one case: who writes, how orders reach the writer, how entries
 * reach everybody. Owns the browser's locks and channel. Knows no order and no entry:
 * it carries whatever the session gives it.
 */
export { createWebChannel } from './channel';
export type { Channel, Message } from './channel';
export { createEntryFeed } from './entry-feed';
export type { EntryFeed, Numbered } from './entry-feed';
export { createWebLock } from './lock';
export type { Hold, Lock } from './lock';
export { createOrderRelay } from './order-relay';
export type { OrderRelay, OrderRelayOptions } from './order-relay';
export { createWriterElection } from './writer-election';
export type { WindowRole, WriterElection } from './writer-election';
