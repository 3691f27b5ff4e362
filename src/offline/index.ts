/**
 * Running without the server: the files kept after one visit, and when a newer build
 * takes over. Owns the service worker; knows no case.
 */
export { createOffline } from './offline';
export type { Offline } from './offline';
