/**
 * Commands by voices that nothing was made from or tuned with, in every room, with
 * everything legal that is legal in the busiest moment of each phrase. Every listener
 * hears the same sounds. Seeded: the same plan every time.
 */
import { LISTENER_NAMES } from '../../../src/cli/load-listeners';
import { DEFAULT_ADDRESS_PHRASE } from '../../../src/voice';
import { CLEAN, listConditions, place } from './conditions';
import type { Condition } from './conditions';
import { say } from './memory';
import { isValue, listSpokenMoments, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel, Verdicts } from './panel';
import { isConfirmedWrongly } from './read-back';
import { judge, Tallies } from './tally';

const SEED = 20;

export interface Trial {
  readonly moment: SpokenMoment;
  readonly voice: string;
  readonly condition: Condition;
  readonly seed: number;
}

/** How many commands are said in the quiet room, and in each other one? */
export interface Amount {
  readonly clean: number;
  readonly each: number;
}

/** Trials in an order that changes the vocabulary seldom. */
export function planTrials({ clean, each }: Amount, voices: readonly string[]): readonly Trial[] {
  const moments = listSpokenMoments(SEED);
  const trials: Trial[] = [];
  const add = (condition: Condition, count: number, first: number): void => {
    for (let index = 0; index < count; index += 1) {
      const moment = moments[(first + index) % moments.length];
      // The voice moves on with each round through the phrases, so that every pair comes.
      const turn = first + index + Math.floor((first + index) / moments.length);
      const voice = voices[turn % voices.length];
      if (moment && voice) trials.push({ moment, voice, condition, seed: 1_000 + trials.length });
    }
  };
  add(CLEAN, clean, 0);
  // Three rooms hear the same commands, the next three others.
  for (const [index, condition] of listConditions().entries())
    add(condition, each, Math.floor(index / 3) * each);
  const orderOf = new Map(trials.map(({ moment }) => moment.legal).map((legal, at) => [legal, at]));
  return trials.toSorted(
    (a, b) => (orderOf.get(a.moment.legal) ?? 0) - (orderOf.get(b.moment.legal) ?? 0),
  );
}

/** A trial's sound. */
export function soundOf(
  { moment, voice, condition, seed }: Trial,
  talk: readonly Float32Array[],
): Float32Array {
  return place(say(voice, `${DEFAULT_ADDRESS_PHRASE} ${moment.words}`), condition, seed, talk);
}

/** Hears all trials, or those that `goesOn` leaves time for; it is told now and then how many are done. */
export async function hearCommands(
  panel: Panel,
  trials: readonly Trial[],
  talk: readonly Float32Array[],
  goesOn: (done: number) => boolean,
): Promise<object> {
  const tallies = new Tallies();
  const wrongs: object[] = [];
  let legal: SpokenMoment['legal'] | null = null;
  let done = 0;
  for (const [index, trial] of trials.entries()) {
    const { moment, voice, condition } = trial;
    if (legal !== moment.legal) await panel.setVocabulary(vocabularyOf(moment.legal));
    legal = moment.legal;
    const verdicts = await panel.hear(soundOf(trial, talk));
    noteOpinions({ said: moment.words, voice, room: condition.name }, verdicts.last);
    const spoken = moment.legal.find(({ words }) => words === moment.words);
    for (const listener of LISTENER_NAMES) {
      const outcome = judge(moment.words, moment.legal, verdicts[listener].heard);
      let isConfirmed = false;
      if (outcome.wrongValue) {
        const offer = { moment, offered: outcome.wrongValue, voice, condition, listener };
        isConfirmed = await isConfirmedWrongly(panel, offer, talk, trial.seed);
        legal = null;
      }
      if (outcome.kind === 'wrong') {
        const heard = verdicts[listener].heard.map(({ words }) => words);
        wrongs.push({ listener, said: moment.words, heard, voice, room: condition.name });
      }
      for (const group of groupsOf(trial))
        tallies.of(`${group} | ${listener}`).add(outcome, isValue(spoken), isConfirmed);
    }
    addLikeliest(tallies, trial, verdicts);
    done = index + 1;
    if (done % 20 === 0 && !goesOn(done)) break;
  }
  return { planned: trials.length, commands: done, rows: tallies.rows, wrongs };
}

/** The rows that a trial counts in. */
function groupsOf({ moment, voice, condition }: Trial): readonly string[] {
  const { name, noise, snrDb } = condition;
  const level = noise === 'none' ? 'clean' : snrDb === null ? noise : `${snrDb} dB`;
  const isPooled = noise !== 'none' && snrDb !== null;
  const rows = [name];
  if (isPooled) rows.push(`all noises ${level}`);
  if (noise.startsWith('real')) rows.push(`recorded noises ${level}`);
  if (level === 'clean' || level === '10 dB')
    rows.push(`${level}, ${moment.procedure}`, `${level}, ${voice}`);
  return rows;
}

/** The likeliest phrase of each listener, whatever it is worth: what a decision could make of it at best. */
function addLikeliest(tallies: Tallies, trial: Trial, { last }: Verdicts): void {
  const { moment } = trial;
  const likeliest = {
    'grammar, likeliest': last?.grammar.words ?? null,
    'network, likeliest': last?.network[0]?.words ?? null,
  };
  for (const [name, words] of Object.entries(likeliest)) {
    const heard = [{ words, score: 0, listener: '', speechMs: 0, decisionMs: 0 }];
    const outcome = judge(moment.words, moment.legal, heard);
    for (const group of [trial.condition.name])
      tallies.of(`${group} | ${name}`).add(outcome, false, false);
  }
}
