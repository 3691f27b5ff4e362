/** What the listener's worker and the text listener's worker say to each other. */
import type { TextOpinion } from '../decision/rankings';
import type { TextQuestion } from './text-listener';

export type ToTextWorker =
  | { readonly type: 'start'; readonly networkBase: string }
  /** The next utterance; what it says of the one before is of no more interest. */
  | { readonly type: 'hear'; readonly utterance: Float32Array }
  | { readonly type: 'ask'; readonly id: number; readonly question: TextQuestion };

export type FromTextWorker =
  | { readonly type: 'ready' }
  | { readonly type: 'failed'; readonly detail: string }
  | { readonly type: 'answer'; readonly id: number; readonly opinion: TextOpinion };
