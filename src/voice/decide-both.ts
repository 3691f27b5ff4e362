import type { HeardPhrase, Vocabulary } from '../domain';
import type { PhraseAtDistance } from './embedding-listener';
export function decideByEmbedding(ranked: readonly PhraseAtDistance[], _v: Vocabulary): Pick<HeardPhrase, 'words' | 'score'> {
  return { words: ranked[0]?.words ?? null, score: 0 };
}
