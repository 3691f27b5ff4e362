/**
 * Speakers whom the wall knows: three recordings of each phrase, in three manners, are
 * the voice card; the phrase said a fourth way is the test. Synthetic held-out voices in
 * the flagship's busiest moment: what people's cards would do only people can show.
 */
import { LISTENER_NAMES } from '../../../src/cli/load-listeners';
import { DEFAULT_ADDRESS_PHRASE, soundToPcm } from '../../../src/voice';
import type { CardVoice } from '../../../src/voice';
import { CLEAN, listConditions, place } from './conditions';
import { say } from './memory';
import { isValue, listSpokenMoments, shuffle, vocabularyOf } from './moments';
import type { SpokenMoment } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel } from './panel';
import { judge, Tallies } from './tally';

/** The procedure that the product shows first. */
const FLAGSHIP = 'reverse-shoulder-glenoid';
/** Manners of the card's recordings; the test is in none of them. */
const CARD_MANNERS = [
  { tempo: 0.9, cents: -60 },
  { tempo: 1.05, cents: 40 },
  { tempo: 1.15, cents: 90 },
] as const;
const TEST_MANNER = { tempo: 0.97, cents: 15 };

/** `voices` and `phrases` of each are tested, in the quiet room and in scripted noises at 10 dB by turns. */
export async function hearWithCards(
  panel: Panel,
  { voices, phrases }: { readonly voices: readonly string[]; readonly phrases: number },
  talk: readonly Float32Array[],
  tell: (done: number) => void,
): Promise<object> {
  const moments = listSpokenMoments(1).filter(({ procedure }) => procedure === FLAGSHIP);
  const { legal } = moments.reduce((a, b) => (b.legal.length > a.legal.length ? b : a));
  const rooms = listConditions().filter(
    ({ noise, snrDb }) => snrDb === 10 && !noise.startsWith('real'),
  );
  await panel.setVocabulary(vocabularyOf(legal));
  const tallies = new Tallies();
  let done = 0;
  for (const [turn, voice] of voices.entries()) {
    await panel.setCard(makeCard(voice, legal));
    for (const [index, spoken] of shuffle(legal, 7 + turn)
      .slice(0, phrases)
      .entries()) {
      const said = say(voice, `${DEFAULT_ADDRESS_PHRASE} ${spoken.words}`, TEST_MANNER);
      for (const room of [CLEAN, rooms[index % rooms.length] ?? CLEAN]) {
        const verdicts = await panel.hear(place(said, room, 50 + done, talk));
        noteOpinions({ said: spoken.words, voice, room: room.name, card: true }, verdicts.last);
        const level = room === CLEAN ? 'clean' : '10 dB';
        for (const listener of LISTENER_NAMES) {
          const outcome = judge(spoken.words, legal, verdicts[listener].heard);
          for (const group of [level, `${level}, ${voice}`])
            tallies.of(`${group} | ${listener}`).add(outcome, isValue(spoken), false);
        }
        done += 1;
      }
    }
    tell(done);
  }
  return { legal: legal.length, rows: tallies.rows };
}

function makeCard(voice: string, legal: SpokenMoment['legal']): CardVoice {
  const takes = legal.flatMap(({ words }) => {
    const text = `${DEFAULT_ADDRESS_PHRASE} ${words}`;
    return CARD_MANNERS.map((manner) => ({ text, pcm: soundToPcm(say(voice, text, manner)) }));
  });
  return { label: voice, takes };
}
