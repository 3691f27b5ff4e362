/** What a window asks the service worker, and what that answers. */
import type { FileStatus } from './file-keeper';

export interface OfflineRequest {
  readonly kind: 'offline.status' | 'offline.prepare' | 'offline.switch';
}

export type OfflineAnswer =
  | { readonly ok: true; readonly status: FileStatus }
  | { readonly ok: false; readonly detail: string };
