/**
 * `npm run bench -- address`: which address phrase is missed least by strangers' voices,
 * heard least where nobody said it, and farthest from what is said in a theatre. Both
 * listeners, with examples of every candidate as the default has them. Needs flite,
 * espeak-ng, sox and, for human talk, opusdec and the project's measuring data.
 *
 * The talk is of the tuning half: the other half is kept for figures about the choice.
 * `TALK_MS` hears more or less of it, `ONLY=a,b` measures some candidates.
 */
import { loadPronunciations } from '../../src/cli/check-procedure';
import { MODEL_FILES, readSpeechFile } from '../../src/cli/sound-files';
import { synthesise, TEMPLATE_VOICES, TUNING_VOICES } from '../../src/cli/spoken-voices';
import type { Vocabulary } from '../../src/domain';
import {
  decideByGrammar, decideWithoutNetwork, EmbeddingListener, GrammarListener, SpeechEmbedding,
} from '../../src/voice'; // prettier-ignore
import type { Opinions, PhraseTemplate } from '../../src/voice';
import { DECISION_LIMITS } from '../../src/voice/decision-limits';
import { hiss, join } from '../voice/real-listener';
import { nearestInTalk } from './address-sounds';
import { cutTalk } from './cut-talk';
import { hasHumanTalk, loadHumanTalk } from './human-talk';
import { makeNoise, mix } from './noise-mix';
import { THEATRE_TALK } from './theatre-talk';

const CANDIDATES = [
  'theatre wall', 'hello wall', 'attention wall', 'listen wall', 'dear wall', 'wall please',
  'team wall', 'cue wall', 'notice board', 'theatre record',
] as const; // prettier-ignore
const SIZES = ['depth two four', 'depth two eight', 'wedge one six', 'post two four'];
const COMMANDS = [
  ...SIZES, 'step done', 'what is next', 'confirm', 'wrong cancel that', 'pin out', 'say again',
  'mute voice', 'insert baseplate',
]; // prettier-ignore
/** Every second of them is spoken; all are legal. */
const SPOKEN = COMMANDS.filter((_, index) => index % 2 === 0);
/** Strangers: none of them reserved for figures (src/cli/spoken-voices.ts), none in its own examples. */
const VOICES = [
  'espeak en-gb+m5 150', 'espeak en-us+f1 160', 'espeak en-gb-x-rp+f2 150', 'espeak en-gb-scotland+m7 160',
  'espeak en-us+m2 170', 'espeak en-gb+f1 140', 'espeak en-us+m7 150', 'flite rms', 'flite slt', 'flite kal16',
] as const; // prettier-ignore
const CONDITIONS = [null, 10] as const;
/** How much human talk do both listeners hear, in milliseconds? */
const TALK_MS = Number(process.env['TALK_MS'] ?? 1_800_000);
/** Of how much of it is the grammar asked alone as well? It takes a minute for every half hour. */
const ALONE_PART = 1 / 3;

/** One candidate, measured. */
interface Row {
  readonly address: string;
  readonly said: number;
  /** Commands that both listeners together took, of those said, without noise and at 10 dB. */
  readonly clean: number;
  readonly noisy: number;
  /** The same, where the grammar decides alone. */
  readonly cleanAlone: number;
  readonly noisyAlone: number;
  readonly wrong: number;
  /** Activations by human talk that was meant for nobody, both listeners and grammar alone. */
  readonly falseTalk: number;
  /** In the part of the talk that the grammar heard alone. */
  readonly falseTalkAlone: number;
  /** Activations by spoken theatre talk. */
  readonly falseTheatre: number;
  readonly falseTheatreAlone: number;
  /** Nearest stretch of theatre talk: edits of phonemes, as a part. */
  readonly nearest: { readonly part: number; readonly words: string };
}

export async function benchAddress(): Promise<object> {
  const only = process.env['ONLY']?.split(',');
  const grammar = await GrammarListener.create(MODEL_FILES, () => 0);
  const embedding = cachedEmbedding(await SpeechEmbedding.create(readSpeechFile));
  const pronounce = await loadPronunciations();
  const theatre = TUNING_VOICES.slice(0, 2).flatMap((voice) =>
    THEATRE_TALK.flatMap((text) => cutTalk(synthesise(voice, text))),
  );
  const human = hasHumanTalk() ? loadHumanTalk(TALK_MS, 'tuning') : [];
  const talk = human.flatMap(cutTalk);
  const rows: Row[] = [];
  for (const address of CANDIDATES.filter((one) => !only || only.includes(one))) {
    const templates = await makeTemplates(embedding, address);
    const counts = await sayAll(grammar, embedding, address, templates);
    const examples = new EmbeddingListener(embedding, templates, () => 0);
    const vocabulary = vocabularyOf(address);
    await grammar.setVocabulary(vocabulary);
    await examples.setVocabulary(vocabulary);
    const ears = { grammar, examples, vocabulary };
    const [inTalk, inTheatre] = [
      await countActivations(talk, ears, talk.length * ALONE_PART),
      await countActivations(theatre, ears, theatre.length),
    ];
    rows.push({
      address,
      ...counts,
      falseTalk: inTalk.both,
      falseTalkAlone: inTalk.alone,
      falseTheatre: inTheatre.both,
      falseTheatreAlone: inTheatre.alone,
      nearest: nearestInTalk(address, pronounce),
    });
    console.log(JSON.stringify(rows.at(-1)));
  }
  await grammar.close();
  const talkMin = human.reduce((sum, { length }) => sum + length, 0) / 960_000;
  return { talkMin, aloneMin: talkMin * ALONE_PART, theatreSentences: theatre.length, rows };
}

function vocabularyOf(addressPhrase: string): Vocabulary {
  return {
    addressPhrase,
    phrases: COMMANDS.map((words) => ({
      words,
      order: SIZES.includes(words)
        ? { type: 'capture.offer', capture: words as never, value: words }
        : { type: 'question.ask', question: words as never },
    })),
  };
}

async function makeTemplates(
  embedding: SpeechEmbedding,
  address: string,
): Promise<PhraseTemplate[]> {
  const made: PhraseTemplate[] = [];
  for (const words of COMMANDS)
    for (const voice of TEMPLATE_VOICES) {
      const text = `${address} ${words}`;
      made.push({ text, voice, vectors: await embedding.embed(synthesise(voice, text)) });
    }
  return made;
}

async function sayAll(
  grammar: GrammarListener,
  embedding: SpeechEmbedding,
  address: string,
  templates: readonly PhraseTemplate[],
): Promise<Pick<Row, 'said' | 'clean' | 'noisy' | 'cleanAlone' | 'noisyAlone' | 'wrong'>> {
  const counts = { said: 0, clean: 0, noisy: 0, cleanAlone: 0, noisyAlone: 0, wrong: 0 };
  const vocabulary = vocabularyOf(address);
  await grammar.setVocabulary(vocabulary);
  for (const voice of VOICES) {
    const others = templates.filter((template) => template.voice !== voice);
    const examples = new EmbeddingListener(embedding, others, () => 0);
    await examples.setVocabulary(vocabulary);
    for (const [index, words] of SPOKEN.entries()) {
      counts.said += 1;
      const sound = join(hiss(250), synthesise(voice, `${address} ${words}`), hiss(110));
      for (const snr of CONDITIONS) {
        const pcm =
          snr === null ? sound : mix(sound, makeNoise('pink', sound.length, index, []), snr);
        const opinions: Opinions = {
          grammar: grammar.consider(pcm),
          ranked: await examples.rank(pcm),
          network: null,
          knows: (known) => examples.knows(known),
          secondVoice: () => 0,
        };
        const both = decideWithoutNetwork(opinions, vocabulary).words;
        const alone = decideByGrammar(opinions.grammar).words;
        if (both === words) counts[snr === null ? 'clean' : 'noisy'] += 1;
        else if (both !== null) counts.wrong += 1;
        if (alone === words) counts[snr === null ? 'cleanAlone' : 'noisyAlone'] += 1;
      }
    }
  }
  return counts;
}

/** Where the examples are far there is no activation by both: the grammar need not be asked. */
async function countActivations(
  pieces: readonly Float32Array[],
  { grammar, examples, vocabulary }: Ears,
  aloneCount: number,
): Promise<{ both: number; alone: number }> {
  const counts = { both: 0, alone: 0 };
  for (const [index, pcm] of pieces.entries()) {
    const ranked = await examples.rank(pcm);
    const isNear = (ranked[0]?.distance ?? Infinity) <= DECISION_LIMITS.agreedDistance;
    if (!isNear && index >= aloneCount) continue;
    const opinions: Opinions = {
      grammar: grammar.consider(pcm),
      ranked,
      network: null,
      knows: (words) => examples.knows(words),
      secondVoice: () => 0,
    };
    if (decideWithoutNetwork(opinions, vocabulary).words !== null) counts.both += 1;
    if (index < aloneCount && decideByGrammar(opinions.grammar).words !== null) counts.alone += 1;
  }
  return counts;
}

interface Ears {
  readonly grammar: GrammarListener;
  readonly examples: EmbeddingListener;
  readonly vocabulary: Vocabulary;
}

/** The same talk is heard for every candidate: its vectors are made once. */
function cachedEmbedding(embedding: SpeechEmbedding): SpeechEmbedding {
  const made = new WeakMap<Float32Array, ReturnType<SpeechEmbedding['embed']>>();
  const cached = Object.create(embedding) as SpeechEmbedding;
  cached.embed = (pcm) => {
    const known = made.get(pcm) ?? embedding.embed(pcm);
    made.set(pcm, known);
    return known;
  };
  return cached;
}
