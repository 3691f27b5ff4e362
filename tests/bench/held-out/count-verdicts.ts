/** Counts what each listener made of one command; a wrong value goes through its simulated read-back. */
import { isValue } from './moments';
import type { Panel, Verdicts } from './panel';
import { isConfirmedWrongly } from './read-back';
import { judge } from './tally';
import type { Tallies } from './tally';
import type { Trial } from './trials';

export interface HeardTrial extends Trial {
  readonly verdicts: Verdicts;
  /** Whether a card that is in use counts; yes where nothing is said. */
  readonly withCard?: boolean;
}

export interface Counted {
  readonly wrongs: readonly object[];
  /** The panel was left with the vocabulary of a read-back. */
  readonly wasReadBack: boolean;
}

/** Counts in each of these rows. */
export async function countVerdicts(
  panel: Panel,
  tallies: Tallies,
  { moment, voice, condition, seed, verdicts, withCard = true }: HeardTrial,
  groups: readonly string[],
  talk: readonly Float32Array[],
): Promise<Counted> {
  const spoken = moment.legal.find(({ words }) => words === moment.words);
  const wrongs: object[] = [];
  let wasReadBack = false;
  for (const [listener, heard] of verdicts.heardBy) {
    const outcome = judge(moment.words, moment.legal, heard);
    let isConfirmed = false;
    if (outcome.wrongValue) {
      const offer = { moment, offered: outcome.wrongValue, voice, condition, listener, withCard };
      isConfirmed = await isConfirmedWrongly(panel, offer, talk, seed);
      wasReadBack = true;
    }
    if (outcome.kind === 'wrong') {
      const taken = heard.map(({ words }) => words);
      wrongs.push({ listener, said: moment.words, heard: taken, voice, room: condition.name });
    }
    for (const group of groups)
      tallies.of(`${group} | ${listener}`).add(outcome, isValue(spoken), isConfirmed);
  }
  return { wrongs, wasReadBack };
}
