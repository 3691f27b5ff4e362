/** A storage bucket for the second copy (Storage Buckets, a WICG draft): its database files are not those of the record. */
import type { CopyPlace } from './second-copy';

/** The parts of the draft that are used; TypeScript does not know them yet. */
export interface StorageBuckets {
  open(
    name: string,
    options: { durability: 'strict'; persisted: boolean },
  ): Promise<{ readonly indexedDB: IDBFactory }>;
  delete(name: string): Promise<void>;
}

const BUCKET = 'cuewall-second-copy';

/** `buckets` is undefined where the browser has none: then there is no second copy. */
export function createBucketPlace(buckets: StorageBuckets | undefined): CopyPlace {
  return {
    open: async () => {
      const bucket = await buckets?.open(BUCKET, { durability: 'strict', persisted: true });
      return bucket?.indexedDB ?? null;
    },
    discard: async () => buckets?.delete(BUCKET),
  };
}
