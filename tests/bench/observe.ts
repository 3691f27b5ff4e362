/**
 * `npm run bench -- observe`: what each listener thinks of the tuning voices and of
 * half of the human talk, one JSON line each; src/voice/decision-limits.ts is set on it.
 */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { listMoments } from '../../src/cli/bench-vocabulary';
import { ROOT } from '../../src/cli/run-program';
import { readSpeechFile } from '../../src/cli/sound-files';
import { synthesise, TUNING_VOICES } from '../../src/cli/spoken-voices';
import { loadBuiltIn } from '../../src/procedure';
import {
  DEFAULT_ADDRESS_PHRASE,
  EmbeddingListener,
  GrammarListener,
  readTemplates,
  readWav,
  REHEARSAL_CLIPS,
  SpeechEmbedding,
} from '../../src/voice';
import { UtteranceCutter } from '../../src/voice/utterances';
import { hiss, join, MODEL_BASE } from '../voice/real-listener';
import { hasHumanTalk, loadHumanTalk } from './human-talk';
import { makeNoise, mix } from './noise-mix';

const PROCEDURE = 'reverse-shoulder-glenoid';
const CONDITIONS = [null, 20, 10, 5] as const;
const EVERY = Number(process.env['EVERY'] ?? 4);
const TALK_MS = Number(process.env['TALK_MS'] ?? 600_000);

export async function benchObserve(): Promise<object> {
  const grammar = await GrammarListener.create({ modelBase: MODEL_BASE }, () => 0);
  const embedding = await SpeechEmbedding.create(readSpeechFile);
  const file = path.join(ROOT, `public/model/templates/${PROCEDURE}.bin`);
  const examples = new EmbeddingListener(embedding, readTemplates(readFileSync(file)), () => 0);
  const compiled = loadBuiltIn(PROCEDURE);
  if (!compiled.ok) throw new Error('The procedure does not load');
  const moments = listMoments(compiled.value);
  const setTo = async (legal: (typeof moments)[number]['legal']): Promise<void> => {
    const vocabulary = { addressPhrase: DEFAULT_ADDRESS_PHRASE, phrases: legal };
    await grammar.setVocabulary(vocabulary);
    await examples.setVocabulary(vocabulary);
  };
  const tell = async (about: object, pcm: Float32Array): Promise<void> => {
    const { words, margin, unexplainedMs } = grammar.consider(pcm);
    const ranked = (await examples.rank(pcm)).slice(0, 6);
    console.log(JSON.stringify({ ...about, words, margin, unexplainedMs, ranked }));
  };
  const talkers = REHEARSAL_CLIPS.slice(0, 12).map(({ file: name }) =>
    readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', name))),
  );
  for (const [index, { words, legal }] of moments.entries()) {
    if (index % EVERY !== 0) continue;
    await setTo(legal);
    for (const voice of TUNING_VOICES) {
      const sound = join(
        hiss(250),
        synthesise(voice, `${DEFAULT_ADDRESS_PHRASE} ${words}`),
        hiss(110),
      );
      for (const snr of CONDITIONS) {
        const noise = () => makeNoise('mixed', sound.length, 11 + index, talkers);
        await tell(
          { said: words, voice, snr, legal: legal.length },
          snr === null ? sound : mix(sound, noise(), snr),
        );
      }
    }
  }
  await setTo(moments.reduce((a, b) => (b.legal.length > a.legal.length ? b : a)).legal);
  if (hasHumanTalk())
    for (const talk of loadHumanTalk(TALK_MS, 'tuning')) {
      for (const pcm of cut(talk)) await tell({ said: null }, pcm);
    }
  await grammar.close();
  await examples.close();
  return { done: true };
}

function cut(sound: Float32Array): Float32Array[] {
  const cutter = new UtteranceCutter();
  const found: Float32Array[] = [];
  const all = join(hiss(500), sound, hiss(800));
  for (let from = 0; from + 160 <= all.length; from += 160) {
    const event = cutter.next(all.slice(from, from + 160));
    if (event?.type === 'paused') found.push(event.utterance.pcm);
  }
  return found;
}
