/** What the window and the review's worker say to each other. */
import type { Fault, Result } from '../../domain';
import type { ManyAnswer, ManyBeside, ManyQuestion, MarkedChange, RoomHours } from '../../review';
import type { Brought, ManyFile, ManyState } from '../../ui';

export type ReviewRequest =
  /** The key is what opens the record's lock; null where there is none to open. */
  | { readonly kind: 'load'; readonly key: CryptoKey | null }
  | { readonly kind: 'cancel' }
  | { readonly kind: 'resume'; readonly id: number }
  | { readonly kind: 'look' | 'look-beside'; readonly id: number; readonly question: ManyQuestion }
  | {
      readonly kind: 'file';
      readonly id: number;
      readonly filter: ManyQuestion['filter'];
      readonly file: ManyFile;
    }
  | { readonly kind: 'bring'; readonly id: number; readonly text: string }
  | { readonly kind: 'mark' | 'unmark'; readonly id: number; readonly mark: MarkedChange }
  | { readonly kind: 'hours'; readonly id: number; readonly hours: RoomHours }
  | { readonly kind: 'forget-aside'; readonly id: number }
  | { readonly kind: 'demo'; readonly id: number; readonly count: number };

export type ReviewReply =
  | { readonly kind: 'state'; readonly state: ManyState }
  | { readonly kind: 'looked'; readonly id: number; readonly answer: ManyAnswer }
  | { readonly kind: 'looked-beside'; readonly id: number; readonly beside: ManyBeside }
  | { readonly kind: 'file'; readonly id: number; readonly text: string }
  | {
      readonly kind: 'brought';
      readonly id: number;
      readonly result: Result<Brought | null, Fault>;
    }
  | { readonly kind: 'done'; readonly id: number; readonly fault: Fault | null };
