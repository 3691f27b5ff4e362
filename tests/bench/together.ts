/**
 * `npm run bench -- together`: two people say different commands at the same time. Tuning
 * voices (src/cli/spoken-voices.ts), the second one 0, 3 or 6 dB softer, everything legal
 * that is legal in the busiest moment of the first one's phrase. Counted: refused or asked
 * again, the louder one's words taken, the softer one's, and words that nobody said.
 */
import { loadListener } from '../../src/cli/load-listeners';
import { listMoments } from '../../src/cli/bench-vocabulary';
import { loudPower } from '../../src/cli/noise-mix';
import { synthesise, TUNING_VOICES } from '../../src/cli/spoken-voices';
import { loadBuiltIn } from '../../src/procedure';
import { DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import { hiss, join } from '../voice/real-listener';

/** Which part of the phrases: every so many. */
const EVERY = Number(process.env['EVERY'] ?? 4);
const SOFTER_DB = [0, 3, 6] as const;

type Outcome = 'refused' | 'louder' | 'softer' | 'nobody';

/** Runs all mixes; some minutes. */
export async function benchTogether(): Promise<object> {
  const compiled = loadBuiltIn('reverse-shoulder-glenoid');
  if (!compiled.ok) throw new Error('The procedure does not load');
  const moments = listMoments(compiled.value).filter((_, index) => index % EVERY === 0);
  const listener = await loadListener('both');
  const [first, second] = TUNING_VOICES;
  const results: Record<string, object> = {};
  for (const softerDb of SOFTER_DB) {
    const all: Record<Outcome, number> = { refused: 0, louder: 0, softer: 0, nobody: 0 };
    const values: Record<Outcome, number> = { refused: 0, louder: 0, softer: 0, nobody: 0 };
    for (const { words, legal } of moments) {
      const others = legal.filter((phrase) => phrase.words !== words);
      const other = others[(words.length * 7) % Math.max(1, others.length)];
      if (!other) continue;
      await listener.setVocabulary({ addressPhrase: DEFAULT_ADDRESS_PHRASE, phrases: legal });
      const louder = synthesise(first, `${DEFAULT_ADDRESS_PHRASE} ${words}`);
      const softer = synthesise(second, `${DEFAULT_ADDRESS_PHRASE} ${other.words}`);
      const heard = await listener.recognise(mixSpeech(louder, softer, softerDb));
      const outcome = toOutcome(heard.words, words, other.words);
      all[outcome] += 1;
      const order = legal.find((phrase) => phrase.words === (heard.words ?? words))?.order;
      if (order?.type === 'capture.offer') values[outcome] += 1;
    }
    results[`softer by ${softerDb} dB`] = { all, values };
  }
  await listener.close();
  return { voices: [first, second], results };
}

function toOutcome(heard: string | null, louder: string, softer: string): Outcome {
  if (heard === null) return 'refused';
  if (heard === louder) return 'louder';
  return heard === softer ? 'softer' : 'nobody';
}

/** Both begin at once, in a quiet room. */
function mixSpeech(louder: Float32Array, softer: Float32Array, softerDb: number): Float32Array {
  const gain = Math.sqrt(loudPower(louder) / loudPower(softer)) * 10 ** (-softerDb / 20);
  const length = Math.max(louder.length, softer.length);
  const both = Float32Array.from(
    { length },
    (_, index) => 0.5 * ((louder[index] ?? 0) + gain * (softer[index] ?? 0)),
  );
  return join(hiss(250), both, hiss(110));
}
