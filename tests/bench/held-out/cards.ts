/**
 * Cards as the desk makes them (desk-card.ts), in the flagship's busiest moment: held-out
 * voices with their own card when all its examples are learnt, the same sounds right after
 * the vocabulary has changed, while none is, and with somebody else's card in use. What
 * people's cards would do only people can show.
 */
import { DEFAULT_ADDRESS_PHRASE } from '../../../src/voice';
import { CLEAN, listScripted, place } from './conditions';
import type { Condition } from './conditions';
import { countVerdicts } from './count-verdicts';
import { CASE_MANNER, makeDeskCard } from './desk-card';
import { say } from './memory';
import { listSpokenMoments, shuffle, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel } from './panel';
import { isInShard } from './shard';
import type { Shard } from './shard';
import { Tallies } from './tally';
import type { Trial } from './trials';

/** The operation with the largest card and the busiest moment. */
export const FLAGSHIP = 'reverse-shoulder';

/** Something said with a card in use, and its sound. */
interface Saying extends Trial {
  readonly sound: Float32Array;
}

type Use = 'own card' | 'own card, not learnt yet' | 'another’s card';

export interface CardPlan {
  readonly voices: readonly string[];
  /** How many phrases each voice says, in the quiet room and in a scripted noise at 10 dB. */
  readonly phrases: number;
  /** Cut by voices. */
  readonly shard: Shard;
}

export async function hearWithCards(
  panel: Panel,
  { voices, phrases, shard }: CardPlan,
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const [busiest, before] = pickMoments();
  const [tallies, wrongs, cards]: [Tallies, object[], object[]] = [new Tallies(), [], []];
  let said = 0;
  for (const [turn, voice] of voices.entries()) {
    if (!isInShard(shard, turn)) continue;
    const sayings = listSayings(busiest, voice, turn, phrases, talk);
    const hearAll = async (use: Use): Promise<void> => {
      wrongs.push(...(await hearWithOne(panel, sayings, use, tallies, talk)));
      tell((said += sayings.length));
    };
    const { card, ...about } = makeDeskCard(voice, FLAGSHIP);
    cards.push({ voice, recordings: card.takes.length, ...about });
    await panel.setLearnsAtOnce(false);
    await panel.setVocabulary(vocabularyOf(before.legal));
    await panel.setCard(card);
    // All is learnt of the moment before; then something else may be said.
    await panel.setLearnsAtOnce(true);
    await panel.setLearnsAtOnce(false);
    await hearAll('own card, not learnt yet');
    await panel.setLearnsAtOnce(true);
    await hearAll('own card');
    const other = voices[(turn + 1) % voices.length] ?? voice;
    await panel.setCard(makeDeskCard(other, FLAGSHIP).card);
    await hearAll('another’s card');
  }
  return { legal: busiest.legal.length, sounds: said, cards, rows: tallies.rows, wrongs };
}

/** The busiest moment, and the busiest one of another state that could come before it. */
function pickMoments(): readonly [SpokenMoment, SpokenMoment] {
  const moments = listSpokenMoments(1)
    .filter(({ procedure }) => procedure === FLAGSHIP)
    .toSorted((a, b) => b.legal.length - a.legal.length);
  const [busiest] = moments;
  const before = moments.find(({ state }) => state !== busiest?.state);
  if (!busiest || !before) throw new Error(`${FLAGSHIP} has too few moments`);
  return [busiest, before];
}

function listSayings(
  moment: SpokenMoment,
  voice: string,
  turn: number,
  phrases: number,
  talk: readonly Float32Array[],
): readonly Saying[] {
  const rooms = listScripted(10);
  const chosen = shuffle(moment.legal, 7 + turn).slice(0, phrases);
  return chosen.flatMap(({ words }, index) => {
    const speech = say(voice, `${DEFAULT_ADDRESS_PHRASE} ${words}`, CASE_MANNER);
    return [CLEAN, rooms[index % rooms.length] ?? CLEAN].map((condition, noisy) => {
      const seed = 50 + 2 * (turn * phrases + index) + noisy;
      const sound = place(speech, condition, seed, talk);
      return { moment: { ...moment, words }, voice, condition, seed, sound };
    });
  });
}

/** Gives what was taken wrongly. */
async function hearWithOne(
  panel: Panel,
  sayings: readonly Saying[],
  use: Use,
  tallies: Tallies,
  talk: readonly Float32Array[],
): Promise<readonly object[]> {
  const wrongs: object[] = [];
  let isCurrent = false;
  for (const saying of sayings) {
    const { moment, voice, condition, sound } = saying;
    if (!isCurrent) await panel.setVocabulary(vocabularyOf(moment.legal));
    const groups = groupsOf(condition, use, voice, panel.knows(moment.words));
    const verdicts = await panel.hear(sound);
    noteOpinions({ said: moment.words, voice, room: condition.name, card: use }, verdicts.last);
    const counted = await countVerdicts(panel, tallies, { ...saying, verdicts }, groups, talk);
    wrongs.push(...counted.wrongs.map((wrong) => ({ use, ...wrong })));
    isCurrent = !counted.wasReadBack;
  }
  return wrongs;
}

function groupsOf(room: Condition, use: Use, voice: string, isOnCard: boolean): readonly string[] {
  const level = room === CLEAN ? 'clean' : '10 dB';
  const all = `${level}, ${use}`;
  if (use !== 'own card') return [all];
  return [all, `${all}, ${isOnCard ? 'on the card' : 'not on the card'}`, `${all}, ${voice}`];
}
