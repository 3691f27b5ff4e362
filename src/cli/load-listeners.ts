/** The listeners as the browser's worker builds them, for Node. */
import { GrammarListener, languageOf, NetworkListener, TwoListeners } from '../voice';
import type { CardVoice, Listener, SpokenLanguage } from '../voice';
import { MODEL_FILES, readSpeechFile } from './sound-files';

export const LISTENER_NAMES = ['both', 'grammar', 'embedding'] as const;
export type ListenerName = (typeof LISTENER_NAMES)[number];

const nowMs = (): number => performance.now();

/** The phrase network and the cards, which the grammar only tells how words are pronounced; and both. */
export interface Loaded {
  readonly grammar: GrammarListener;
  readonly network: NetworkListener;
  readonly both: TwoListeners;
}

export async function loadBoth(language: SpokenLanguage = languageOf('')): Promise<Loaded> {
  const grammar = await GrammarListener.create(MODEL_FILES, nowMs, language);
  const pronounce = language.hasNetwork ? (word: string) => grammar.phonesOf(word) : null;
  const network = await NetworkListener.create(readSpeechFile, pronounce, nowMs);
  return { grammar, network, both: new TwoListeners(grammar, network, nowMs) };
}

/** One listener or both, with these voice cards learnt before it is asked. */
export async function loadListener(
  name: ListenerName,
  cards: readonly CardVoice[] = [],
): Promise<Listener> {
  if (name === 'grammar') return GrammarListener.create(MODEL_FILES, nowMs);
  const { network, both } = await loadBoth();
  await network.setCards(cards);
  if (name === 'both') return both;
  return {
    name,
    // Through both, so that the words' sounds are known.
    setVocabulary: (vocabulary) => both.setVocabulary(vocabulary),
    recognise: (pcm) => network.recognise(pcm),
    close: () => both.close(),
  };
}
