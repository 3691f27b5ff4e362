/**
 * A voice card as the desk makes it: its very texts, each read in two rounds in a quiet
 * room, cut and judged by its recorder; what is no good is read again, more slowly, and left
 * out after the last try. The voice is synthetic, so that its recordings of one text differ
 * by manner only.
 */
import { createCardServices } from '../../../src/app/voice/card-services';
import type { CardParts } from '../../../src/app/voice/card-services';
import { LANGUAGES } from '../../../src/voice';
import type { CardTake, CardVoice, RecordedTake } from '../../../src/voice';
import { DEFAULT_ADDRESS_PHRASE, judgeTake, TakeRecorder } from '../../../src/voice';
import { describeBuiltIn } from '../../../src/session';
import { CLEAN, place } from './conditions';
import { say } from './memory';

/** How each round is read, and how it is read again where a recording is no good. */
const ROUNDS = [
  [{ tempo: 0.9, cents: -60 }, { tempo: 0.8, cents: -40 }],
  [{ tempo: 1.1, cents: 70 }, { tempo: 0.85, cents: 30 }],
] as const; // prettier-ignore
/** A fourth manner, in none of the rounds: what is said in the case. */
export const CASE_MANNER = { tempo: 0.97, cents: 15 };

export interface DeskCard {
  readonly card: CardVoice;
  readonly texts: number;
  /** Recordings that were refused and read again, and texts of a round that were left out in the end. */
  readonly refused: number;
  readonly leftOut: number;
}

/** What somebody is asked to read for a built-in procedure. */
export function listCardTexts(procedure: string): readonly string[] {
  // What the plan needs of the desk; the shelf, the microphone and the rest are not touched.
  const parts = {
    procedures: { describe: describeBuiltIn },
    settings: { current: { addressPhrase: DEFAULT_ADDRESS_PHRASE, talkKey: null } },
  } as unknown as CardParts;
  const plan = createCardServices(parts).plan(procedure, LANGUAGES[0].tag);
  if (!plan.ok) throw new Error(`No card can be made for ${procedure}: ${plan.error.code}`);
  return plan.value.texts;
}

/** Reads them all in one voice. */
export function makeDeskCard(voice: string, procedure: string): DeskCard {
  const texts = listCardTexts(procedure);
  const takes: CardTake[] = [];
  let [refused, leftOut] = [0, 0];
  const desk = new Desk();
  for (const manners of ROUNDS)
    for (const text of texts) {
      const tries = manners.map((manner) => () => desk.record(text, say(voice, text, manner)));
      let good: CardTake | null = null;
      for (const attempt of tries) {
        good ??= attempt();
        if (good) break;
        refused += 1;
      }
      if (good) takes.push(good);
      else leftOut += 1;
    }
  return { card: { label: voice, takes }, texts: texts.length, refused, leftOut };
}

/** One sitting at the desk: the recorder follows the room from text to text. */
class Desk {
  #latest: RecordedTake | null = null;
  #count = 0;
  readonly #recorder = new TakeRecorder({
    onReading: () => undefined,
    onHearing: () => undefined,
    onTake: (take) => (this.#latest = take),
  });

  /** The recording, or null where it is no good or none was cut out. */
  record(text: string, speech: Float32Array): CardTake | null {
    this.#latest = null;
    this.#recorder.push(place(speech, CLEAN, (this.#count += 1), []));
    const take = this.#latest as RecordedTake | null;
    return take && judgeTake(take.measure, text) === null ? { text, pcm: take.pcm } : null;
  }
}
