/**
 * Whether a wrong value survives its read-back. The model: the speaker notices every wrong
 * read-back and says "wrong cancel that" in the same voice and the same room, up to three
 * times; the wall hears that with the same listener among what is legal then (confirm,
 * withdraw, corrections and all else). Heard as "confirm", the wrong value is confirmed;
 * not heard, it lapses unconfirmed. Speakers who don't notice are not modelled: with them
 * every wrong offer may be confirmed.
 */
import type { ListenerName } from '../../../src/cli/load-listeners';
import type { SpokenOrder } from '../../../src/domain';
import { DEFAULT_ADDRESS_PHRASE } from '../../../src/voice';
import { place } from './conditions';
import type { Condition } from './conditions';
import { say } from './memory';
import { phrasesAfter, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import type { Panel } from './panel';

/** How often is the cancelling tried before the read-back lapses? */
const TRIES = 3;
const CANCEL = 'wrong cancel that';

export interface WrongOffer {
  readonly moment: SpokenMoment;
  readonly offered: SpokenOrder;
  readonly voice: string;
  readonly condition: Condition;
  readonly listener: ListenerName;
  readonly withCard: boolean;
}

/** True where the wrong value ends up confirmed. Leaves the vocabulary of the read-back behind. */
export async function isConfirmedWrongly(
  panel: Panel,
  { moment, offered, voice, condition, listener, withCard }: WrongOffer,
  talk: readonly Float32Array[],
  seed: number,
): Promise<boolean> {
  const legal = phrasesAfter(moment, offered);
  if (!legal.some(({ words }) => words === CANCEL)) return false;
  await panel.setVocabulary(vocabularyOf(legal));
  const speech = say(voice, `${DEFAULT_ADDRESS_PHRASE} ${CANCEL}`);
  for (let attempt = 0; attempt < TRIES; attempt += 1) {
    const sound = place(speech, condition, seed + 101 * (attempt + 1), talk);
    const { heardBy } = await panel.hear(sound, withCard);
    const taken = (heardBy.get(listener) ?? []).flatMap(
      ({ words }) => legal.find((spoken) => spoken.words === words)?.order ?? [],
    );
    if (taken.some(({ type }) => type === 'capture.confirm')) return true;
    if (taken.some(({ type }) => type === 'capture.withdraw')) return false;
  }
  return false;
}
