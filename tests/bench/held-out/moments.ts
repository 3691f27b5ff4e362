/** What people say in the built-in procedures, each phrase in its busiest moment, answers to a read-back included. */
import { listMoments } from '../../../src/cli/bench-vocabulary';
import type { Moment } from '../../../src/cli/bench-vocabulary';
import type { SpokenOrder, Vocabulary } from '../../../src/domain';
import { listBuiltIn, listPhrases, loadBuiltIn } from '../../../src/procedure';
import type { CompiledProcedure } from '../../../src/procedure';
import { follow } from '../../../src/procedure/explore';
import { DEFAULT_ADDRESS_PHRASE } from '../../../src/voice';
import { createRandom } from '../noise-mix';

export interface SpokenMoment extends Moment {
  readonly procedure: string;
  readonly compiled: CompiledProcedure;
}

/** All of them, in an order that is the same every time and mixes procedures and phrases. */
export function listSpokenMoments(seed: number): readonly SpokenMoment[] {
  const all = listBuiltIn().flatMap(({ id }) => {
    const compiled = loadBuiltIn(id);
    if (!compiled.ok) throw new Error(`The procedure ${id} does not load`);
    const moments = listMoments(compiled.value);
    return [...moments, ...listReadBacks(compiled.value, moments)].map((moment) => ({
      ...moment,
      procedure: id,
      compiled: compiled.value,
    }));
  });
  return shuffle(all, seed);
}

/** Where most may be said, of all built-in procedures. */
export function findBusiest(): SpokenMoment {
  return listSpokenMoments(1).reduce((a, b) => (b.legal.length > a.legal.length ? b : a));
}

/** What may be said while a value waits for its confirmation. */
export function phrasesAfter(
  { compiled, state }: SpokenMoment,
  { order }: SpokenOrder,
): readonly SpokenOrder[] {
  return listPhrases(compiled, follow(compiled, state, order));
}

export function vocabularyOf(legal: readonly SpokenOrder[]): Vocabulary {
  return { addressPhrase: DEFAULT_ADDRESS_PHRASE, phrases: legal };
}

export function isValue(spoken: SpokenOrder | undefined): boolean {
  return spoken?.order.type === 'capture.offer';
}

/** One read-back of each capture: yes, no, and one correction. The walk of all moments passes over them. */
function listReadBacks(compiled: CompiledProcedure, moments: readonly Moment[]): readonly Moment[] {
  const found = new Map<string, readonly Moment[]>();
  for (const { words, legal, state } of moments) {
    const order = legal.find((spoken) => spoken.words === words)?.order;
    if (order?.type !== 'capture.offer' || found.has(order.capture)) continue;
    const after = follow(compiled, state, order);
    const answers = listPhrases(compiled, after);
    const said = answers.filter((spoken) =>
      ['capture.confirm', 'capture.withdraw'].includes(spoken.order.type),
    );
    const correction = answers.find((spoken) => spoken.words.startsWith('correct '));
    const asked = correction ? [...said, correction] : said;
    found.set(
      order.capture,
      asked.map((spoken) => ({ words: spoken.words, legal: answers, state: after })),
    );
  }
  return [...found.values()].flat();
}

/** Fisher and Yates. */
export function shuffle<T>(list: readonly T[], seed: number): readonly T[] {
  const random = createRandom(seed);
  const out = [...list];
  for (let index = out.length - 1; index > 0; index -= 1) {
    const other = Math.floor(((random() + 1) / 2) * (index + 1));
    [out[index], out[other]] = [out[other] as T, out[index] as T];
  }
  return out;
}
