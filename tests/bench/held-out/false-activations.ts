/**
 * How often people who talk to each other are taken for someone talking to the wall, with
 * everything legal that is legal in the flagship's busiest moment: the half of the read
 * English by many speakers that no threshold was set on, in a quiet room and in mixed
 * noise, and connected talk by synthetic voices; without a voice card, and with one in use
 * that is nobody's who talks, or in synthetic talk one voice's of eight. Each false
 * activation is listed with what was said.
 */
import { FIGURE_VOICES } from '../../../src/cli/spoken-voices';
import { hasHumanTalk, listHumanTalk } from '../human-talk';
import type { TalkHalf } from '../human-talk';
import { CLEAN, place } from './conditions';
import type { Condition } from './conditions';
import { makeDeskCard } from './desk-card';
import { findBusiest, vocabularyOf } from './moments';
import { noteOpinions } from './opinions-log';
import type { Panel } from './panel';
import { isInShard } from './shard';
import type { Shard } from './shard';
import { speakTalk } from './synthetic-talk';
import type { Talk } from './synthetic-talk';
import { TalkCounts } from './talk-counts';

/** Human talk is heard in these. */
const ROOMS: readonly Condition[] = [CLEAN, { name: 'mixed 10 dB', noise: 'mixed', snrDb: 10 }];

export interface TalkPlan {
  readonly source: 'human' | 'synthetic';
  /** The most talk that is heard, in hours, all parts together. */
  readonly mostHours: number;
  readonly half: TalkHalf;
  readonly shard: Shard;
}

/** `babble` is what noise of voices is made of; `goesOn` is told the minutes heard. */
export async function hearTalk(
  panel: Panel,
  { source, mostHours, half, shard }: TalkPlan,
  babble: readonly Float32Array[],
  goesOn: (minutes: number) => boolean,
): Promise<object> {
  const busiest = findBusiest();
  await panel.setVocabulary(vocabularyOf(busiest.legal));
  const owner = FIGURE_VOICES[shard.index % FIGURE_VOICES.length] ?? FIGURE_VOICES[0];
  await panel.setCard(makeDeskCard(owner, busiest.procedure).card);
  const counts = new TalkCounts();
  let hours = 0;
  for (const talk of source === 'human' ? speakHuman(half, shard) : speakTalk(shard)) {
    if (hours >= mostHours / shard.count) break;
    hours += talk.sound.length / 16_000 / 3_600;
    await hearOne(panel, { ...talk, source }, babble, counts);
    if (counts.pieces % 20 === 0 && !goesOn(Math.round(hours * 60))) break;
  }
  return { legal: busiest.legal.length, card: owner, talk: counts.rows };
}

/** The same opinions are decided twice: as if there were no card, and with the card in use. */
async function hearOne(
  panel: Panel,
  { sound, text, voice, room, source, seed }: Talk & { source: string },
  babble: readonly Float32Array[],
  counts: TalkCounts,
): Promise<void> {
  const placed = place(sound, room, seed, babble);
  const carded = await panel.hear(placed);
  noteOpinions({ said: null, voice, room: room.name, card: true }, carded.last);
  const bare = await panel.hear(placed, false);
  const heard = {
    ...Object.fromEntries(bare.heardBy),
    'both, a card in use': carded.heardBy.get('both') ?? [],
  };
  const kind = room === CLEAN ? 'quiet' : 'noise';
  counts.add(`${source}, ${kind}`, sound.length / 16_000 / 3_600, heard, {
    said: text,
    voice,
    room: room.name,
  });
}

/** Every utterance in each room; in turn, so that an early end leaves both. */
export function* speakHuman(half: TalkHalf, shard: Shard): Generator<Talk> {
  if (!hasHumanTalk()) {
    console.log('skipped: the measuring data "speech" is not here');
    return;
  }
  for (const [index, { sound, text, speaker }] of listHumanTalk(half).entries())
    if (isInShard(shard, index))
      for (const [turn, room] of ROOMS.entries())
        yield { sound: sound(), text, voice: speaker, room, seed: ROOMS.length * index + turn };
}
