/**
 * Commands by voices that nothing was made from or tuned with, in every room, with
 * everything legal that is legal in the busiest moment of each phrase. Every listener
 * hears the same sounds. Seeded: the same plan every time.
 */
import { countVerdicts } from './count-verdicts';
import { vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel, Verdicts } from './panel';
import { judge, Tallies } from './tally';
import { soundOf } from './trials';
import type { Trial } from './trials';

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
    const counted = await countVerdicts(
      panel,
      tallies,
      { ...trial, verdicts },
      groupsOf(trial),
      talk,
    );
    wrongs.push(...counted.wrongs);
    if (counted.wasReadBack) legal = null;
    addLikeliest(tallies, trial, verdicts);
    done = index + 1;
    if (done % 20 === 0 && !goesOn(done)) break;
  }
  return { planned: trials.length, commands: done, rows: tallies.rows, wrongs };
}

/** The rows that a trial counts in. */
function groupsOf({ moment, voice, condition }: Trial): readonly string[] {
  const { name, noise, snrDb, hasEcho } = condition;
  if (hasEcho) return snrDb === null ? [name] : [name, `echo and noise ${snrDb} dB`];
  const level = snrDb === null ? 'clean' : `${snrDb} dB`;
  const rows = [name];
  if (snrDb !== null) rows.push(`all noises ${level}`);
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
