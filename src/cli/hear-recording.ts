/** One recording through voice activity and the listeners, as the browser hears it. */
import type { HeardPhrase, Vocabulary } from '../domain';
import {
  DEFAULT_ADDRESS_PHRASE,
  AllListeners,
  Hearing,
  learnAll,
  NO_TEXT,
  scoreOf,
  withCards,
} from '../voice';
import type { CardVoice, Evidence, Listener } from '../voice';
import { loadListener } from './load-listeners';
import type { ListenerName } from './load-listeners';

/** Silence around a recording, in samples: as the ear puts around clips. */
const BEFORE = 4_800;
const AFTER = 11_200;

export interface HeardRecording {
  /** As the list of phrases writes it; null where nothing was accepted. */
  readonly phrase: string | null;
  /** What it may have been, where the listeners doubted. */
  readonly candidates: readonly string[];
  /** Probability of each listener's own phrase; null where it was not asked. */
  readonly grammar: number | null;
  readonly embedding: number | null;
  /** Time of the listeners' work, in milliseconds. */
  readonly workMs: number;
}

export interface OpinionatedEars {
  readonly listener: Listener;
  readonly vocabulary: Vocabulary;
  readonly prefix: string;
  close(): Promise<void>;
}

/** Loads listeners for whole phrases; the default address phrase is told apart where all begin with it. */
export async function loadOpinionated(
  name: ListenerName,
  cards: readonly CardVoice[],
  phrases: readonly string[],
): Promise<OpinionatedEars> {
  const prefix = `${DEFAULT_ADDRESS_PHRASE} `;
  const isAddressed = phrases.every((words) => words.startsWith(prefix));
  const vocabulary: Vocabulary = {
    addressPhrase: isAddressed ? DEFAULT_ADDRESS_PHRASE : '',
    // Every phrase is treated as a size: none is taken on one listener's word.
    phrases: phrases.map((words) => ({
      words: isAddressed ? words.slice(prefix.length) : words,
      order: { type: 'capture.offer', capture: 'said' as never, value: words },
    })),
  };
  const listener = await loadListener(name, cards);
  const faults = await listener.setVocabulary(vocabulary);
  await learnAll(listener);
  for (const { params } of faults) console.error(`not in the dictionary: ${params['word'] ?? ''}`);
  return {
    listener,
    vocabulary,
    prefix: isAddressed ? prefix : '',
    close: () => listener.close(),
  };
}

export async function hearRecording(
  { listener, vocabulary, prefix }: OpinionatedEars,
  sound: Float32Array,
): Promise<HeardRecording> {
  const heard: HeardPhrase[] = [];
  const scores: Pick<HeardRecording, 'grammar' | 'embedding'>[] = [];
  let workMs = 0;
  const timed: Listener = {
    name: listener.name,
    setVocabulary: (next) => listener.setVocabulary(next),
    close: () => listener.close(),
    recognise: async (pcm) => {
      const phrase = await listener.recognise(pcm);
      workMs += phrase.decisionMs;
      scores.push(scoresOf(listener, phrase, vocabulary));
      return phrase;
    },
  };
  const nothing = (): void => undefined;
  const hearing = new Hearing(timed, {
    onPhrase: (phrase) => heard.push(phrase),
    onHearing: nothing,
    onLevel: nothing,
  });
  await hearing.setVocabulary(vocabulary);
  const around = new Float32Array(BEFORE + sound.length + AFTER);
  around.set(sound, BEFORE);
  await hearing.push(around);
  const taken = heard.find(({ words }) => words !== null) ?? heard.at(-1);
  return {
    phrase: taken?.words === undefined || taken.words === null ? null : prefix + taken.words,
    candidates: (taken?.candidates ?? []).map((words) => prefix + words),
    ...(scores.at(-1) ?? { grammar: null, embedding: null }),
    workMs: Math.round(workMs),
  };
}

function scoresOf(
  listener: Listener,
  { score }: HeardPhrase,
  vocabulary: Vocabulary,
): Pick<HeardRecording, 'grammar' | 'embedding'> {
  if (!(listener instanceof AllListeners) || listener.last === null) {
    const own = round(score);
    return listener.name === 'grammar'
      ? { grammar: own, embedding: null }
      : { grammar: null, embedding: own };
  }
  const { grammar, network, ranked } = listener.last;
  // As it was decided: with what the card says counted in.
  const likeliest = (withCards(network, ranked)[0] ?? ranked[0])?.words;
  const scored = (words: string | null, evidence: Evidence): number =>
    round(scoreOf(words, evidence, vocabulary));
  return {
    grammar: scored(grammar.words, { grammar, network: [], ranked: [], ...NO_TEXT }),
    embedding:
      likeliest === undefined
        ? null
        : scored(likeliest, { grammar: null, network, ranked, ...NO_TEXT }),
  };
}

function round(x: number): number {
  return Number(x.toFixed(3));
}
