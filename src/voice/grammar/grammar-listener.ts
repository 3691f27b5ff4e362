/**
 * The listener that needs no recordings: a grammar of exactly what is legal now
 * finds the likeliest phrase, then two checks decide whether it was said at all.
 * Its score must beat a free run of any sounds by a margin, and its words must
 * explain the loud parts of the utterance (docs/voice-tried.md has the measurements).
 */
import type { Fault, HeardPhrase, Vocabulary } from '../../domain';
import { decideByGrammar } from '../decision/decide-both';
import type { GrammarOpinion } from './grammar-decision';
import { explainUtterance, hasSqueezedDigit } from './explained';
import { createSoundsGraph, grammarToGraph, listPhoneWords, vocabularyToGrammar } from './grammar';
import type { Grammar } from './grammar';
import { LANGUAGES } from '../languages/languages';
import type { SpokenLanguage } from '../languages/languages';
import type { Listener } from '../hearing/listener';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import { GrammarDecoder, loadRecogniser } from './recogniser';
import type { ModelFiles } from './recogniser';

/** The free run of sounds: context-independent phones and narrow beams make it cheap. */
const SOUNDS_OPTIONS = { cionly: true, beam: 1e-20, pbeam: 1e-20, wbeam: 1e-10 };

const NOTHING: Grammar = { address: [], phraseOf: new Map(), faults: [] };

export class GrammarListener implements Listener {
  readonly name = 'grammar';
  readonly #commands: GrammarDecoder;
  readonly #sounds: GrammarDecoder;
  readonly #nowMs: () => number;
  readonly #digits: readonly string[];
  #grammar = NOTHING;
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };

  private constructor(
    commands: GrammarDecoder,
    sounds: GrammarDecoder,
    nowMs: () => number,
    digits: readonly string[],
  ) {
    this.#digits = digits;
    this.#commands = commands;
    this.#sounds = sounds;
    this.#nowMs = nowMs;
  }

  /** Loads everything. Rejects where the files can't be had. `nowMs` is a monotonic clock. */
  static async create(
    files: ModelFiles,
    nowMs: () => number,
    language: SpokenLanguage = LANGUAGES[0],
  ): Promise<GrammarListener> {
    const module = await loadRecogniser(files);
    const commands = await GrammarDecoder.create(module, language);
    const sounds = await GrammarDecoder.create(module, language, SOUNDS_OPTIONS);
    for (const [word, phone] of listPhoneWords(language.phones)) sounds.addWord(word, phone);
    sounds.setWordGraph(createSoundsGraph(language.phones));
    return new GrammarListener(commands, sounds, nowMs, language.digits);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    const grammar = vocabularyToGrammar(vocabulary, (word) => this.#commands.canPronounce(word));
    // Most entries (talk above all) leave what may be said as it is: no graph is built for them.
    const graph = isSameGrammar(grammar, this.#grammar) ? null : grammarToGraph(grammar);
    if (graph !== null) this.#commands.setWordGraph(graph);
    this.#grammar = grammar;
    this.#vocabulary = vocabulary;
    return grammar.faults;
  }

  async recognise(utterance: Float32Array): Promise<HeardPhrase> {
    const startMs = this.#nowMs();
    const opinion = this.consider(utterance);
    return {
      ...decideByGrammar(opinion, this.#vocabulary),
      listener: this.name,
      speechMs: opinion.speechMs,
      decisionMs: this.#nowMs() - startMs,
    };
  }

  /** The likeliest phrase and how likely it is, whatever that is worth. */
  consider(utterance: Float32Array): GrammarOpinion {
    const speechMs = (utterance.length * 1000) / SAMPLE_RATE_HZ;
    const nothing = { words: null, margin: () => -Infinity, unexplainedMs: Infinity, speechMs };
    if (this.#grammar.phraseOf.size === 0) return nothing;
    const best = this.#commands.decode(utterance);
    const words = this.#grammar.phraseOf.get(best.text ?? '');
    if (words === undefined || hasSqueezedDigit(best.segments, this.#digits)) return nothing;
    const { unexplainedMs, wordsMs } = explainUtterance(utterance, best.segments);
    let known: number | null = null;
    const margin = (): number =>
      (known ??= best.scorePerFrame - this.#sounds.decode(utterance).scorePerFrame);
    return { words, margin, unexplainedMs, speechMs: wordsMs };
  }

  /** The sounds of a word, by dictionary or lexicon; null where neither has it. */
  phonesOf(word: string): readonly string[] | null {
    return this.#commands.phonesOf(word);
  }

  async close(): Promise<void> {
    this.#commands.close();
    this.#sounds.close();
  }
}

function isSameGrammar(a: Grammar, b: Grammar): boolean {
  const textOf = ({ address, phraseOf }: Grammar): string =>
    [address.join(' '), ...phraseOf.keys()].join('\n');
  return textOf(a) === textOf(b);
}
