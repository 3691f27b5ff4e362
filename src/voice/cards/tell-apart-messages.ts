/** What the main thread and the worker that compares recordings say to each other. */
import type { CardTake } from './card-voice';
import type { ToldApart } from './tell-apart';

export interface ToComparer {
  /** Absolute URL of the folder of the models. */
  readonly networkBase: string;
  readonly takes: readonly CardTake[];
}

export type FromComparer =
  | { readonly rows: readonly ToldApart[] }
  /** It could not, for this reason. */
  | { readonly detail: string };
