/**
 * Two people say different commands at the same time: the second one as loud or softer,
 * at once or a little later. Counted, through voice activity and the rules of settling:
 * refused or asked again, whose words were taken, and words that nobody said; the same
 * with the check for a second voice left out.
 */
import { loadListener } from '../../../src/cli/load-listeners';
import { loudPower } from '../../../src/cli/noise-mix';
import type { SpokenOrder } from '../../../src/domain';
import { decideFromAll, DEFAULT_ADDRESS_PHRASE, Hearing, AllListeners } from '../../../src/voice';
import type { Listener, Opinions } from '../../../src/voice';
import { CLEAN, place } from './conditions';
import { say, soundKey } from './memory';
import { isValue, listSpokenMoments, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { toShare } from './proportion';

const SEED = 31;
const SOFTER_DB = [0, 3, 6] as const;
const LATER_MS = [0, 300] as const;
/** Speech together is made half as loud, so that it does not clip. */
const HEADROOM = 0.5;

type Fate = 'refused' | 'louder' | 'softer' | 'both' | 'nobody';

class Fates {
  readonly #counts: Record<Fate, number> = { refused: 0, louder: 0, softer: 0, both: 0, nobody: 0 };
  #values = 0;
  #said = 0;

  add(fate: Fate, isOfferedValue: boolean): void {
    this.#counts[fate] += 1;
    this.#said += 1;
    if (isOfferedValue) this.#values += 1;
  }

  get row(): object {
    const { refused, ...taken } = this.#counts;
    return {
      taken: toShare(this.#said - refused, this.#said),
      ...taken,
      valueOffered: toShare(this.#values, this.#said),
    };
  }
}

/** Hears so many mixes in each way of being together. */
export async function hearTogether(
  voices: readonly string[],
  count: number,
  tell: (done: number) => boolean,
): Promise<object> {
  const listener = await loadListener('both');
  if (!(listener instanceof AllListeners)) throw new Error('Expected all listeners');
  const fates = new Map<string, Fates>();
  const moments = listSpokenMoments(SEED).filter(({ legal }) => legal.length > 1);
  let done = 0;
  for (const [index, moment] of moments.slice(0, count).entries()) {
    const other = pickOther(moment, index);
    if (!other) continue;
    await listener.setVocabulary(vocabularyOf(moment.legal));
    const first = say(at(voices, index), `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`);
    // The step between the two voices changes with each round: every pair comes.
    const second = at(
      voices,
      index + 1 + (Math.floor(index / voices.length) % (voices.length - 1)),
    );
    const beside = say(second, `${DEFAULT_ADDRESS_PHRASE} ${other.words}`);
    for (const softerDb of SOFTER_DB)
      for (const laterMs of LATER_MS) {
        const sound = place(together(first, beside, softerDb, laterMs), CLEAN, index, []);
        const heard = await hearBothWays(listener, moment, sound);
        for (const [way, taken] of Object.entries(heard)) {
          const name = `${softerDb} dB softer, ${laterMs} ms later | ${way}`;
          const known = fates.get(name) ?? new Fates();
          fates.set(name, known);
          known.add(toFate(moment, other, taken), taken.some(isValue));
        }
      }
    done = index + 1;
    if (done % 10 === 0 && !tell(done)) break;
  }
  await listener.close();
  return {
    mixes: done,
    fates: Object.fromEntries([...fates].map(([name, { row }]) => [name, row])),
  };
}

function at(voices: readonly string[], index: number): string {
  return voices[index % voices.length] ?? '';
}

/** Something of another meaning that is legal in the same moment. */
function pickOther({ words, legal }: SpokenMoment, index: number): SpokenOrder | undefined {
  const meant = JSON.stringify(legal.find((spoken) => spoken.words === words)?.order);
  const others = legal.filter(({ order }) => JSON.stringify(order) !== meant);
  return others[(index * 7) % Math.max(1, others.length)];
}

/** Orders that were taken, with the check for a second voice and without; the listeners are asked once. */
async function hearBothWays(
  listener: AllListeners,
  { legal }: SpokenMoment,
  sound: Float32Array,
): Promise<Readonly<Record<'checked' | 'unchecked', readonly SpokenOrder[]>>> {
  const known = new Map<string, Opinions>();
  const hear = async (change: Partial<Opinions>): Promise<readonly SpokenOrder[]> => {
    const taken: SpokenOrder[] = [];
    const deciding: Listener = {
      name: 'both',
      setVocabulary: async () => [],
      close: async () => undefined,
      recognise: async (pcm) => {
        const opinions = known.get(soundKey(pcm)) ?? (await listener.consider(pcm));
        known.set(soundKey(pcm), opinions);
        const decision = decideFromAll({ ...opinions, ...change }, vocabularyOf(legal));
        return { ...decision, listener: 'both', speechMs: 0, decisionMs: 0 };
      },
    };
    const hearing = new Hearing(deciding, {
      onPhrase: ({ words }) => taken.push(...legal.filter((spoken) => spoken.words === words)),
      onHearing: () => undefined,
      onLevel: () => undefined,
    });
    await hearing.setVocabulary(vocabularyOf(legal));
    await hearing.push(sound);
    return taken;
  };
  return { checked: await hear({}), unchecked: await hear({ secondVoice: () => 0 }) };
}

function toFate(moment: SpokenMoment, other: SpokenOrder, taken: readonly SpokenOrder[]): Fate {
  const said = moment.legal.find(({ words }) => words === moment.words);
  const isOf = (spoken: SpokenOrder | undefined) => (one: SpokenOrder) =>
    JSON.stringify(one.order) === JSON.stringify(spoken?.order);
  if (taken.length === 0) return 'refused';
  if (taken.some((one) => !isOf(said)(one) && !isOf(other)(one))) return 'nobody';
  const isLouder = taken.some(isOf(said));
  if (isLouder && taken.some(isOf(other))) return 'both';
  return isLouder ? 'louder' : 'softer';
}

/** Both in one room, the second one softer and later. */
function together(
  first: Float32Array,
  second: Float32Array,
  softerDb: number,
  laterMs: number,
): Float32Array {
  const gain = Math.sqrt(loudPower(first) / loudPower(second)) * 10 ** (-softerDb / 20);
  const later = laterMs * 16;
  return Float32Array.from(
    { length: Math.max(first.length, second.length + later) },
    (_, index) => HEADROOM * ((first[index] ?? 0) + gain * (second[index - later] ?? 0)),
  );
}
