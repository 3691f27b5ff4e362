/**
 * What the screen of procedures asks of the program: the list, the check of a file, the
 * files out, and a dry run. src/app gives the real thing. Nothing here draws.
 */
import type { Fault, Result } from '../domain';
import type { Finding, ProcedureCard, RunningCase } from '../session';

/** One procedure of the list. */
export interface ShelfLine {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  readonly isBuiltIn: boolean;
  /** Wall time at which it was brought; null for a built-in one. */
  readonly addedAt: number | null;
  /** Why it can't be used any more; null where it can. */
  readonly fault: Fault | null;
}

/** How far a check has come. */
export type CheckNews =
  | { readonly kind: 'faults'; readonly faults: readonly Finding[] }
  /** The walk through all of it has ended; `hasSounds` is false where words were not listened to. */
  | { readonly kind: 'remarks'; readonly remarks: readonly Finding[]; readonly hasSounds: boolean }
  | { readonly kind: 'failed'; readonly detail: string };

export interface ProcedureShelf {
  /** Built-in ones first, then those brought here, by title. */
  list(): readonly ShelfLine[];
  /** Why what was brought can't be read or kept; null where all is well. */
  fault(): Fault | null;
  /** Called when the list is another one; returns the function that ends it. */
  watch(callback: () => void): () => void;
  /** Reads again what is kept, also what another window brought. */
  reload(): Promise<void>;
  describe(id: string): Result<ProcedureCard, Fault>;
  /** The file of a procedure: as it was brought, or as it comes with the program. */
  read(id: string): Result<{ readonly data: unknown; readonly text: string }, Fault>;
  /** Checks data beside the screen; returns the function that stops it. */
  check(data: unknown, tell: (news: CheckNews) => void): () => void;
  /** Keeps a file; one of the same id is replaced, a built-in one never. */
  keep(text: string): Promise<Result<string, Fault>>;
  remove(id: string): Promise<Fault | null>;
  save(id: string): Fault | null;
  /** A case in memory that nobody records. */
  dryRun(data: unknown): Promise<Result<RunningCase, Fault>>;
}
