/** A seeded mutator of procedure files, and what must hold of each mutant. */
import { SOURCES } from '../../src/domain';
import type { Order } from '../../src/domain';
import {
  applyFact, decide, inspectProcedure, isAccepted, listPhrases, openingState, stateKey,
} from '../../src/procedure'; // prettier-ignore
import type { CompiledProcedure } from '../../src/procedure';

/** Numbers from 0 to 1 from a seed: mulberry32 (public domain, from memory). */
export type Random = () => number;

export function createRandom(seed: number): Random {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

type Node = Record<string, unknown>;
interface Place {
  readonly parent: Node;
  readonly key: string;
}

const ODD: readonly unknown[] = [
  null, '', ' ', 0, -1, 1e9, 0.1, true, [], {}, '{item}', '{depth}', 'constructor', '__proto__', '"', '\\', 'confirm', 'x'.repeat(5000), '\u0000',
]; // prettier-ignore

/** A file with one to three things changed. */
export function mutate(good: unknown, random: Random): unknown {
  const copy = structuredClone(good) as Node;
  const times = 1 + Math.floor(random() * 3);
  for (let index = 0; index < times; index += 1) mutateOnce(copy, random);
  return copy;
}

function mutateOnce(root: Node, random: Random): void {
  const places = listPlaces(root);
  const pick = () => places[Math.floor(random() * places.length)];
  const [place, other] = [pick(), pick()];
  if (!place || !other) return;
  const { parent, key } = place;
  const value = parent[key];
  const way = Math.floor(random() * 8);
  if (way === 0) remove(place);
  else if (way === 1) parent[key] = ODD[Math.floor(random() * ODD.length)];
  else if (way === 2) parent[key] = structuredClone(other.parent[other.key]);
  else if (way === 3 && Array.isArray(parent)) parent.push(structuredClone(value));
  else if (way === 4 && Array.isArray(parent)) parent.reverse();
  else if (typeof value === 'number') parent[key] = value + Math.floor(random() * 9) - 4;
  else parent[key] = likeValue(places, place, random);
}

/** The value of another place with the same key, so that many mutants keep their form. */
function likeValue(places: readonly Place[], { parent, key }: Place, random: Random): unknown {
  const same = places.filter((place) => place.key === key);
  const text = places.filter((place) => typeof place.parent[place.key] === 'string');
  const from = random() < 0.6 ? same : text;
  const chosen = from[Math.floor(random() * from.length)];
  return chosen ? structuredClone(chosen.parent[chosen.key]) : parent[key];
}

function remove({ parent, key }: Place): void {
  if (Array.isArray(parent)) parent.splice(Number(key), 1);
  else Reflect.deleteProperty(parent, key);
}

function listPlaces(node: Node): readonly Place[] {
  return Object.entries(node).flatMap(([key, value]) => [
    { parent: node, key },
    ...(typeof value === 'object' && value !== null ? listPlaces(value as Node) : []),
  ]);
}

/** What became of a mutant. */
export type Outcome = 'refused' | 'stuck' | 'ran';

/** Checks a mutant; one that compiles is run. Throws where a promise is broken. */
export function tryMutant(data: unknown, random: Random, most: number, orders: number): Outcome {
  const { compiled, canRun, findings } = inspectProcedure(data, { most });
  if (!compiled) {
    if (!findings.some(({ isFatal }) => isFatal)) throw new Error('Refused without a reason');
    return 'refused';
  }
  runRandomly(compiled, random, orders);
  return canRun ? 'ran' : 'stuck';
}

/** Says random things that may be said; a refusal must change nothing, a fact be taken. */
function runRandomly(compiled: CompiledProcedure, random: Random, orders: number): void {
  let state = openingState(compiled);
  for (let index = 0; index < orders; index += 1) {
    const phrases = listPhrases(compiled, state);
    const order: Order | undefined = phrases[Math.floor(random() * phrases.length)]?.order;
    const source = SOURCES[Math.floor(random() * SOURCES.length)];
    if (!order || !source) return;
    const before = stateKey(state);
    const decided = decide(compiled, state, order, source);
    if (!decided.ok) {
      if (stateKey(state) !== before) throw new Error('A refused order changed the state');
      continue;
    }
    for (const { fact } of decided.value) {
      if (!isAccepted(state, fact)) throw new Error(`The machine does not take "${fact.type}"`);
      state = applyFact(compiled, state, fact);
    }
  }
}
