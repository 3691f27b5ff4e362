/**
 * How often people who talk to each other are taken for someone talking to the wall: the
 * half of the read English by many speakers that no threshold was set on, with everything
 * legal that is legal in the flagship's busiest moment.
 */
import { LISTENER_NAMES } from '../../../src/cli/load-listeners';
import type { HeardPhrase } from '../../../src/domain';
import { hasHumanTalk, loadHumanTalk } from '../human-talk';
import { CLEAN, place } from './conditions';
import { listSpokenMoments, vocabularyOf } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel } from './panel';

/** Zero events in some hours: with 95 % certainty fewer than three divided by the hours (the "rule of three"). */
const UPPER_AT_ZERO = 3;
/** The same for 1, 2, 3 ... events: upper 95 % limits of the mean of a Poisson count (one-sided; half of chi-square's 95 % quantile with 2n + 2 degrees of freedom; from memory of a standard table). */
const UPPER = [UPPER_AT_ZERO, 4.74, 6.3, 7.75, 9.15, 10.51, 11.84] as const;

export async function hearTalk(
  panel: Panel,
  { wantedMs, half }: { readonly wantedMs: number; readonly half: 'tuning' | 'figures' },
  tell: (done: number) => void,
): Promise<object> {
  if (!hasHumanTalk()) {
    console.log('skipped: the measuring data "speech" is not here');
    return { skipped: 'the measuring data "speech" is not here' };
  }
  const moments = listSpokenMoments(1);
  const { legal } = moments.reduce((a, b) => (b.legal.length > a.legal.length ? b : a));
  await panel.setVocabulary(vocabularyOf(legal));
  const taken = Object.fromEntries(LISTENER_NAMES.map((name) => [name, [] as HeardPhrase[]]));
  const asked = Object.fromEntries(LISTENER_NAMES.map((name) => [name, 0]));
  let hours = 0;
  for (const [index, sound] of loadHumanTalk(wantedMs, half).entries()) {
    hours += sound.length / 16_000 / 3_600;
    const verdicts = await panel.hear(place(sound, CLEAN, index, []));
    noteOpinions({ said: null }, verdicts.last);
    for (const name of LISTENER_NAMES)
      for (const phrase of verdicts[name].heard) {
        if (phrase.words !== null) taken[name]?.push(phrase);
        else if (phrase.candidates !== undefined) asked[name] = (asked[name] ?? 0) + 1;
      }
    if (index % 50 === 49) tell(Math.round(hours * 60));
  }
  const rows = LISTENER_NAMES.map((name) => {
    const count = taken[name]?.length ?? 0;
    const most = UPPER[count];
    return {
      listener: name,
      falseActivations: count,
      perHour: Number((count / hours).toFixed(2)),
      upper95PerHour: most === undefined ? null : Number((most / hours).toFixed(2)),
      askedAgain: asked[name],
      heard: taken[name]?.map(({ words }) => words),
    };
  });
  return { hours: Number(hours.toFixed(2)), legal: legal.length, rows };
}
