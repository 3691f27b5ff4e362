/**
 * The test of a voice card: the wall's own listeners, with this card alone, hear what the
 * procedure's plan offers. Nothing that is heard goes anywhere but to the screen.
 */
import { fault, ok } from '../../domain';
import type { Fault, Result, Scheduler, SpokenOrder } from '../../domain';
import type { TestWatcher } from '../../ui';
import { createBrowserEar, languageOf, SpokenVocabulary } from '../../voice';
import type { Ear, EarState, VoiceCard } from '../../voice';

const SHOWN = { off: 'off', starting: 'starting', listening: 'listening', hearing: 'hearing', lost: 'off', failed: 'off' } as const satisfies Record<EarState, string>; // prettier-ignore

/**
 * Starts to listen; the function that comes back ends it and frees the listeners. Fault: `language-unknown`;
 * the watcher is told `card-test-failed`.
 */
export function startCardTest(
  siteBase: string,
  card: VoiceCard,
  phrases: readonly SpokenOrder[],
  watcher: TestWatcher,
  scheduler: Scheduler,
  createEar: typeof createBrowserEar = createBrowserEar,
): Result<() => void, Fault> {
  const language = languageOf(card.language);
  if (!language.ok) return language;
  const spoken = new SpokenVocabulary(language.value);
  const say = (words: string): string => spoken.say(words) ?? words;
  // What is shown is how well the card's own listeners tell its phrases apart.
  const withoutThird = (): boolean => false;
  const ear: Ear = createEar(siteBase, scheduler, withoutThird, {
    onPhrase: ({ words, candidates = [], hasTwoVoices = false }) =>
      watcher.onHeard({
        words: words === null ? null : say(words),
        candidates: candidates.map(say),
        isOfTwo: hasTwoVoices,
      }),
    onState: (state, why) => {
      watcher.onState(SHOWN[state]);
      if (why) watcher.onFault(why);
    },
    onLevel: () => undefined,
    onFault: (why) => watcher.onFault(why),
  });
  const { label, takes, addressPhrase } = card;
  const start = async (): Promise<void> => {
    await ear.setVoices({ language: language.value, cards: [{ label, takes }] });
    await ear.setVocabulary({ addressPhrase, phrases });
    await ear.startListening();
  };
  const fail = (cause: unknown): void => {
    watcher.onState('off');
    watcher.onFault(fault('card-test-failed', { detail: String(cause) }));
  };
  void start().catch(fail);
  return ok(() => void ear.close().catch(fail));
}
