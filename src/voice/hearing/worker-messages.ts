/** What the main thread and the listener's worker say to each other. */
import type { CardLearning, Fault, HeardPhrase, SoundReading, Vocabulary } from '../../domain';
import type { WallSpeech } from './barge-in';
import type { CardVoice } from '../cards/card-voice';

export interface StartMessage {
  readonly type: 'start';
  readonly modelBase: string;
  readonly networkBase: string;
  /** Tag of the language that is spoken. */
  readonly language: string;
}

export type ToWorker =
  | StartMessage
  | { readonly type: 'cards'; readonly cards: readonly CardVoice[] }
  | { readonly type: 'vocabulary'; readonly id: number; readonly vocabulary: Vocabulary }
  | { readonly type: 'gate'; readonly isSpeaking: boolean; readonly speech?: WallSpeech }
  | { readonly type: 'sound'; readonly id: number; readonly pcm: Float32Array }
  | { readonly type: 'port'; readonly port: MessagePort };

export type FromWorker =
  | { readonly type: 'ready' }
  | { readonly type: 'failed'; readonly detail: string }
  | { readonly type: 'done'; readonly id: number; readonly faults: readonly Fault[] }
  | { readonly type: 'phrase'; readonly heard: HeardPhrase }
  | { readonly type: 'hearing'; readonly isHearing: boolean }
  | { readonly type: 'level'; readonly levelDb: number; readonly reading: SoundReading }
  | { readonly type: 'learning'; readonly learning: CardLearning };
