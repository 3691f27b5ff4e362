/**
 * The listener that needs no recordings: a grammar of exactly what is legal now
 * finds the likeliest phrase, then two checks decide whether it was said at all.
 * Its score must beat a free run of any sounds by a margin, and its words must
 * explain the loud parts of the utterance (docs/voice.md has the measurements).
 */
import type { Fault, HeardPhrase, Vocabulary } from '../domain';
import { explainUtterance, hasSqueezedDigit } from './explained';
import { createSoundsGrammar, listPhoneWords, vocabularyToGrammar } from './grammar';
import type { Grammar } from './grammar';
import type { Listener } from './listener';
import { SAMPLE_RATE_HZ } from './listener';
import { GrammarDecoder, loadRecogniser } from './recogniser';
import type { ModelFiles } from './recogniser';

/** By how much must a phrase beat free sounds, per frame? Measured on human talk; docs/voice.md. */
const LEAST_MARGIN = -2;
/** Over which difference of margins does the score go from doubtful to sure? */
const MARGIN_SCALE = 3;
/** How much loud sound may the words leave over, in milliseconds? A breath, a footstep. */
const MOST_UNEXPLAINED_MS = 250;

/** The free run of sounds: context-independent phones and narrow beams make it cheap. */
const SOUNDS_OPTIONS = { cionly: true, beam: 1e-20, pbeam: 1e-20, wbeam: 1e-10 };

/** What the grammar made of an utterance, before anything is decided. */
export interface GrammarOpinion {
  /** The likeliest whole phrase; null where there is none or its digits were squeezed in. */
  readonly words: string | null;
  /** By how much it beats free sounds, per frame. */
  readonly margin: number;
  /** Loud sound that its words leave over, in milliseconds. */
  readonly unexplainedMs: number;
  readonly speechMs: number;
}

const NOTHING: Grammar = { jsgf: null, phraseOf: new Map(), faults: [] };

export class GrammarListener implements Listener {
  readonly name = 'grammar';
  readonly #commands: GrammarDecoder;
  readonly #sounds: GrammarDecoder;
  readonly #nowMs: () => number;
  #grammar = NOTHING;

  private constructor(commands: GrammarDecoder, sounds: GrammarDecoder, nowMs: () => number) {
    this.#commands = commands;
    this.#sounds = sounds;
    this.#nowMs = nowMs;
  }

  /** Loads everything. Rejects where the files can't be had. `nowMs` is a monotonic clock. */
  static async create(files: ModelFiles, nowMs: () => number): Promise<GrammarListener> {
    const module = await loadRecogniser(files);
    const commands = await GrammarDecoder.create(module);
    const sounds = await GrammarDecoder.create(module, SOUNDS_OPTIONS);
    for (const [word, phone] of listPhoneWords()) sounds.addWord(word, phone);
    sounds.setGrammar(createSoundsGrammar());
    return new GrammarListener(commands, sounds, nowMs);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    const grammar = vocabularyToGrammar(vocabulary, (word) => this.#commands.canPronounce(word));
    // Most entries (talk above all) leave what may be said as it is: no grammar is built for them.
    if (grammar.jsgf !== null && grammar.jsgf !== this.#grammar.jsgf) {
      this.#commands.setGrammar(grammar.jsgf);
    }
    this.#grammar = grammar;
    return grammar.faults;
  }

  async recognise(utterance: Float32Array): Promise<HeardPhrase> {
    const startMs = this.#nowMs();
    const opinion = this.consider(utterance);
    const { words, score, speechMs } = decideByGrammar(opinion);
    return {
      words,
      score,
      listener: this.name,
      speechMs,
      decisionMs: this.#nowMs() - startMs,
    };
  }

  /** The likeliest phrase and how likely it is, whatever that is worth. */
  consider(utterance: Float32Array): GrammarOpinion {
    const speechMs = (utterance.length * 1000) / SAMPLE_RATE_HZ;
    const nothing = { words: null, margin: -Infinity, unexplainedMs: Infinity, speechMs };
    if (this.#grammar.jsgf === null) return nothing;
    const best = this.#commands.decode(utterance);
    const words = this.#grammar.phraseOf.get(best.text ?? '');
    if (words === undefined || hasSqueezedDigit(best.segments)) return nothing;
    const { unexplainedMs, wordsMs } = explainUtterance(utterance, best.segments);
    const margin = best.scorePerFrame - this.#sounds.decode(utterance).scorePerFrame;
    return { words, margin, unexplainedMs, speechMs: wordsMs };
  }

  async close(): Promise<void> {
    this.#commands.close();
    this.#sounds.close();
  }
}

/** The grammar's own decision, where it has to decide alone. */
export function decideByGrammar({
  words,
  margin,
  unexplainedMs,
  speechMs,
}: GrammarOpinion): Pick<HeardPhrase, 'words' | 'score' | 'speechMs'> {
  if (words === null || unexplainedMs > MOST_UNEXPLAINED_MS)
    return { words: null, score: 0, speechMs };
  const score = 1 / (1 + Math.exp((LEAST_MARGIN - margin) / MARGIN_SCALE));
  return { words: margin >= LEAST_MARGIN ? words : null, score, speechMs };
}
