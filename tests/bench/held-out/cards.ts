/**
 * Cards as the desk makes them (desk-card.ts), in the flagship's busiest moment: held-out
 * voices with their own card in use, and with somebody else's. "Not learnt yet" are the same
 * sounds as the wall hears them right after what may be said has changed: until all
 * examples are there a card counts for nothing (test CARD19), so the same opinions are
 * decided without it. What people's cards would do only people can show.
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
const FLAGSHIP = 'reverse-shoulder';

type Use = 'own card' | 'another’s card';

export interface CardPlan {
  readonly voices: readonly string[];
  /** How many phrases each voice says, in the quiet room and in a scripted noise at 10 dB. */
  readonly phrases: number;
  /** Cut by cards. */
  readonly shard: Shard;
}

/** Each card is in use while its owner speaks, and while the next voice does. */
export async function hearWithCards(
  panel: Panel,
  { voices, phrases, shard }: CardPlan,
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const busiest = findBusiestOf(FLAGSHIP);
  await panel.setVocabulary(vocabularyOf(busiest.legal));
  const [tallies, wrongs, cards]: [Tallies, object[], object[]] = [new Tallies(), [], []];
  let sounds = 0;
  for (const [turn, owner] of voices.entries()) {
    if (!isInShard(shard, turn)) continue;
    const { card, ...about } = makeDeskCard(owner, FLAGSHIP);
    cards.push({ owner, recordings: card.takes.length, ...about });
    await panel.setCard(card);
    for (const [step, use] of (['own card', 'another’s card'] as const).entries()) {
      const trials = planSayings(busiest, voices, turn + step, phrases);
      wrongs.push(...(await hearAll(panel, trials, use, tallies, talk)));
      sounds += trials.length;
      tell(sounds);
    }
  }
  return { legal: busiest.legal.length, sounds, cards, rows: tallies.rows, wrongs };
}

function findBusiestOf(procedure: string): SpokenMoment {
  const moments = listSpokenMoments(1).filter((moment) => moment.procedure === procedure);
  return moments.reduce((a, b) => (b.legal.length > a.legal.length ? b : a));
}

/** What the voice at a place in the list says: the same whoever's card is in use. */
function planSayings(
  moment: SpokenMoment,
  voices: readonly string[],
  at: number,
  phrases: number,
): readonly Trial[] {
  const turn = at % voices.length;
  const voice = voices[turn] ?? '';
  const rooms = listScripted(10);
  const chosen = shuffle(moment.legal, 7 + turn).slice(0, phrases);
  return chosen.flatMap(({ words }, index) =>
    [CLEAN, rooms[index % rooms.length] ?? CLEAN].map((condition, noisy) => {
      const seed = 50 + 2 * (turn * phrases + index) + noisy;
      return { moment: { ...moment, words }, voice, condition, seed };
    }),
  );
}

/** Gives what was taken wrongly. */
async function hearAll(
  panel: Panel,
  trials: readonly Trial[],
  use: Use,
  tallies: Tallies,
  talk: readonly Float32Array[],
): Promise<readonly object[]> {
  const wrongs: object[] = [];
  for (const trial of trials) {
    const { moment, voice, condition } = trial;
    const speech = say(voice, `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`, CASE_MANNER);
    const sound = place(speech, condition, trial.seed, talk);
    const verdicts = await panel.hear(sound);
    noteOpinions({ said: moment.words, voice, room: condition.name, card: use }, verdicts.last);
    const groups = groupsOf(condition, use, voice, panel.knows(moment.words));
    const bare = await panel.hear(sound, false);
    const counted = [await countVerdicts(panel, tallies, { ...trial, verdicts }, groups, talk)];
    if (use === 'own card') {
      const level = levelOf(condition);
      const heard = { ...trial, verdicts: bare, withCard: false };
      counted.push(await countVerdicts(panel, tallies, heard, [`${level}, not learnt yet`], talk));
    }
    wrongs.push(...counted.flatMap((one) => one.wrongs.map((wrong) => ({ use, ...wrong }))));
    if (counted.some(({ wasReadBack }) => wasReadBack))
      await panel.setVocabulary(vocabularyOf(moment.legal));
  }
  return wrongs;
}

function levelOf(room: Condition): string {
  return room === CLEAN ? 'clean' : '10 dB';
}

function groupsOf(room: Condition, use: Use, voice: string, isOnCard: boolean): readonly string[] {
  const all = `${levelOf(room)}, ${use}`;
  if (use !== 'own card') return [all];
  return [all, `${all}, ${isOnCard ? 'on the card' : 'not on the card'}`, `${all}, ${voice}`];
}
