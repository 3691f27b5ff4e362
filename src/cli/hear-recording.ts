/** One recording through voice activity and the listeners, as the browser hears it. */
import { faultToDeveloperText } from '../domain';
import type { HeardPhrase, Vocabulary } from '../domain';
import {
  DEFAULT_ADDRESS_PHRASE,
  AllListeners,
  Hearing,
  learnAll,
  likeliestByText,
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
  readonly text: number | null;
  /** Time of the listeners' work, in milliseconds. */
  readonly workMs: number;
}

type Scores = Pick<HeardRecording, 'grammar' | 'embedding' | 'text'>;

const NO_SCORES: Scores = { grammar: null, embedding: null, text: null };

/** Of a recording without speech. */
export const NOTHING_HEARD: HeardRecording = {
  phrase: null, candidates: [], ...NO_SCORES, workMs: 0,
}; // prettier-ignore

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
  for (const unknown of faults) console.error(faultToDeveloperText(unknown));
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
  const heard: { readonly phrase: HeardPhrase; readonly scores: Scores }[] = [];
  let scores = NO_SCORES;
  let workMs = 0;
  const timed: Listener = {
    name: listener.name,
    setVocabulary: (next) => listener.setVocabulary(next),
    close: () => listener.close(),
    recognise: async (pcm) => {
      const phrase = await listener.recognise(pcm);
      workMs += phrase.decisionMs;
      scores = scoresOf(listener, phrase, vocabulary);
      return phrase;
    },
  };
  const nothing = (): void => undefined;
  const hearing = new Hearing(timed, {
    onPhrase: (phrase) => heard.push({ phrase, scores }),
    onHearing: nothing,
    onLevel: nothing,
  });
  await hearing.setVocabulary(vocabulary);
  const around = new Float32Array(BEFORE + sound.length + AFTER);
  around.set(sound, BEFORE);
  await hearing.push(around);
  // What is asked about rather than what was talk, and what is taken rather than that.
  const told =
    heard.find(({ phrase }) => phrase.words !== null) ??
    heard.find(({ phrase }) => phrase.candidates) ??
    heard.at(-1);
  if (!told) return { ...NOTHING_HEARD, workMs: Math.round(workMs) };
  const { words, candidates = [] } = told.phrase;
  return {
    phrase: words === null ? null : prefix + words,
    candidates: candidates.map((candidate) => prefix + candidate),
    ...told.scores,
    workMs: Math.round(workMs),
  };
}

function scoresOf(listener: Listener, { score }: HeardPhrase, vocabulary: Vocabulary): Scores {
  if (!(listener instanceof AllListeners) || listener.last === null) {
    const own = round(score);
    return listener.name === 'grammar'
      ? { ...NO_SCORES, grammar: own }
      : { ...NO_SCORES, embedding: own };
  }
  const { grammar, network, ranked, text, head } = listener.last;
  // As it was decided: with what the card says counted in.
  const likeliest = (withCards(network, ranked)[0] ?? ranked[0])?.words ?? null;
  const none = { grammar: null, network: [], ranked: [], ...NO_TEXT };
  const scored = (words: string | null, evidence: Partial<Evidence>): number | null =>
    words === null ? null : round(scoreOf(words, { ...none, ...evidence }, vocabulary));
  return {
    grammar: scored(grammar.words, { grammar }) ?? 0,
    embedding: scored(likeliest, { network, ranked }),
    text: scored(likeliestByText({ text, head }), { text, head }),
  };
}

function round(x: number): number {
  return Number(x.toFixed(3));
}
