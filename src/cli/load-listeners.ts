/** The listeners as the browser's worker builds them, for Node. */
import { GrammarListener, LANGUAGES, AllListeners } from '../voice';
import type { CardVoice, Listener, SpokenLanguage } from '../voice';
import { MODEL_FILES, readSpeechFile } from './sound-files';

export const LISTENER_NAMES = ['both', 'grammar', 'embedding'] as const;
export type ListenerName = (typeof LISTENER_NAMES)[number];

const nowMs = (): number => performance.now();

export function loadBoth(language: SpokenLanguage = LANGUAGES[0]): Promise<AllListeners> {
  return AllListeners.create(MODEL_FILES, readSpeechFile, language, nowMs);
}

/** One listener or both, with these voice cards learnt before it is asked. */
export async function loadListener(
  name: ListenerName,
  cards: readonly CardVoice[] = [],
): Promise<Listener> {
  if (name === 'grammar') return GrammarListener.create(MODEL_FILES, nowMs);
  const both = await loadBoth();
  await both.setCards(cards);
  if (name === 'both') return both;
  return {
    name,
    // Through both, so that the words' sounds are known.
    setVocabulary: (vocabulary) => both.setVocabulary(vocabulary),
    get learning() {
      return both.learning;
    },
    learnSome: () => both.learnSome(),
    recognise: (pcm) => both.network.recognise(pcm),
    close: () => both.close(),
  };
}
