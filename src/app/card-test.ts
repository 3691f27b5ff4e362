/**
 * The test of a voice card: the wall's own listeners, with this card alone, hear what the
 * procedure's plan offers. Nothing that is heard goes anywhere but to the screen.
 */
import { ok } from '../domain';
import type { Fault, Result, Scheduler, SpokenOrder } from '../domain';
import type { TestWatcher } from '../ui';
import { createBrowserEar, languageOf, SpokenVocabulary } from '../voice';
import type { Ear, EarState, VoiceCard } from '../voice';

const SHOWN = { off: 'off', starting: 'starting', listening: 'listening', hearing: 'hearing', lost: 'off', failed: 'off' } as const satisfies Record<EarState, string>; // prettier-ignore

/** Starts to listen; the function that comes back ends it and frees the listeners. Fault: `language-unknown`. */
export function startCardTest(
  siteBase: string,
  card: VoiceCard,
  phrases: readonly SpokenOrder[],
  watcher: TestWatcher,
  scheduler: Scheduler,
): Result<() => void, Fault> {
  const language = languageOf(card.language);
  if (!language.ok) return language;
  const spoken = new SpokenVocabulary(language.value);
  const say = (words: string): string => spoken.say(words) ?? words;
  // What is shown is how well the card's own listeners tell its phrases apart.
  const withoutThird = (): boolean => false;
  const ear: Ear = createBrowserEar(siteBase, scheduler, withoutThird, {
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
  void (async () => {
    await ear.setVoices({ language: language.value, cards: [{ label, takes }] });
    await ear.setVocabulary({ addressPhrase, phrases });
    await ear.startListening();
  })();
  return ok(() => void ear.close());
}
