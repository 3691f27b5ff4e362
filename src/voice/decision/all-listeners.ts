/** All listeners behind one port; the decision from what they say is in decide-with-network.ts. */
import type { CardLearning, Fault, HeardPhrase, Vocabulary } from '../../domain';
import type { CardVoice } from '../cards/card-voice';
import { decideFromAll } from './decide-with-network';
import type { Opinions } from './decide-both';
import { GrammarListener } from '../grammar/grammar-listener';
import type { SpokenLanguage } from '../languages/languages';
import type { Listener } from '../hearing/listener';
import type { ReadModelFile } from '../models/model-runs';
import { NetworkListener } from '../network/network-listener';
import type { ModelFiles } from '../grammar/recogniser';
import { shareOfSecondVoice } from './second-voice';
import { NO_TEXT } from './rankings';
import { TextListener } from '../text/text-listener';
import type { HearsText } from '../text/text-listener';
import { askedOfText } from './text-opinion';

export class AllListeners implements Listener {
  readonly name = 'both';
  #last: Opinions | null = null;
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };

  private constructor(
    private readonly grammar: GrammarListener,
    /** By itself it knows how words are pronounced only from the grammar's latest vocabulary. */
    readonly network: NetworkListener,
    /** Null in a language that the speech model was not trained on. */
    private readonly text: HearsText | null,
    private readonly nowMs: () => number,
  ) {}

  /**
   * Loads them for one language; `createText` where its text listener is to work elsewhere.
   * Rejects where a file is missing or damaged. `nowMs` is a monotonic clock.
   */
  static async create(
    files: ModelFiles,
    read: ReadModelFile,
    language: SpokenLanguage,
    nowMs: () => number,
    createText: () => Promise<HearsText> = () => TextListener.create(read),
  ): Promise<AllListeners> {
    const grammar = await GrammarListener.create(files, nowMs, language);
    const pronounce = language.hasNetwork ? (word: string) => grammar.phonesOf(word) : null;
    const network = await NetworkListener.create(read, pronounce, nowMs);
    const text = language.hasNetwork ? await createText() : null;
    return new AllListeners(grammar, network, text, nowMs);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    // The grammar first: it knows how the words are pronounced.
    const faults = await this.grammar.setVocabulary(vocabulary);
    await this.network.setVocabulary(vocabulary);
    this.#vocabulary = vocabulary;
    return faults;
  }

  async setCards(cards: readonly CardVoice[]): Promise<void> {
    await this.network.setCards(cards);
  }

  get learning(): CardLearning {
    return this.network.learning;
  }

  async learnSome(): Promise<void> {
    await this.network.learnSome();
  }

  /** What they thought of the latest utterance; null before the first. */
  get last(): Opinions | null {
    return this.#last;
  }

  /** What each of them thinks; nothing is decided. */
  async consider(utterance: Float32Array): Promise<Opinions> {
    const askText = this.text?.hear(utterance);
    const grammar = this.grammar.consider(utterance);
    const opinion = await this.network.consider(utterance, grammar.words);
    const { addressPhrase } = this.#vocabulary;
    const asked = askedOfText({ grammar, ...opinion }, this.#vocabulary);
    const targets = this.network.targetsOf(asked.map(({ words }) => words));
    // Of one phrase nothing can be said.
    const answer = targets.length >= 2 ? await askText?.({ addressPhrase, asked, targets }) : null;
    return {
      grammar,
      ...opinion,
      ...(answer ?? NO_TEXT),
      knows: (words) => this.network.knows(words),
      secondVoice: () => shareOfSecondVoice(utterance),
    };
  }

  async recognise(utterance: Float32Array): Promise<HeardPhrase> {
    const startMs = this.nowMs();
    const opinions = await this.consider(utterance);
    this.#last = opinions;
    const decision = decideFromAll(opinions, this.#vocabulary);
    return {
      ...decision,
      listener: this.name,
      speechMs: opinions.grammar.speechMs,
      decisionMs: this.nowMs() - startMs,
    };
  }

  async close(): Promise<void> {
    await this.grammar.close();
    await this.network.close();
    await this.text?.close();
  }
}
