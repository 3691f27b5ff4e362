/**
 * Ranks what may be said now by the phrase network, and by the examples of the voice cards
 * in use. It says which phrases are likely and near; what that is worth is decided in
 * decide-with-network.ts.
 */
import type { CardLearning, Fault, HeardPhrase, Vocabulary } from '../../domain';
import { CardExamples } from '../cards/card-examples';
import { isLearnt } from '../hearing/idle-learning';
import type { CardVoice } from '../cards/card-voice';
import { decideByNetwork } from '../decision/decide-with-network';
import { NETWORK_LIMITS, TEXT_LIMITS } from '../decision/decision-limits';
import { splitWords } from '../grammar/grammar';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import type { Listener } from '../hearing/listener';
import type { ReadModelFile } from '../models/model-runs';
import { listOtherNumbers } from './other-numbers';
import { distanceOfBeginning, rankPhrases, toTargets } from './network-phrases';
import type { Pronounce, Targets } from './network-phrases';
import { PhraseNetwork } from './phrase-network';
import type { HeardTraits } from './phrase-network';
import { isValue, withCards } from '../decision/rankings';
import { SoundClasses } from './sound-classes';
import type { PhraseAtDistance } from '../decision/rankings';

const NOTHING_TO_LEARN: CardLearning = { done: 0, total: 0 };

/** What it makes of one utterance. */
export interface NetworkOpinion {
  /** Legal phrases that can be pronounced, the likeliest first; empty where the language has no network. */
  readonly network: readonly PhraseAtDistance[];
  /** Phrases with examples, the nearest first. */
  readonly ranked: readonly PhraseAtDistance[];
  /** The likeliest sizes with a number that may not be said now, the likeliest first. */
  readonly unsayable: readonly PhraseAtDistance[];
  /** How unlikely it is that it began with the address phrase; missing where that can't be told. */
  readonly addressDistance?: number;
}

export class NetworkListener implements Listener {
  readonly name = 'embedding';
  #vocabulary: Vocabulary = { addressPhrase: '', phrases: [] };
  #targets: readonly Targets[] = [];
  /** The address phrase by itself; undefined where nobody can pronounce it. */
  #address: Targets | undefined;
  #cards: readonly CardExamples[] = [];

  /** Sounds of words that were looked up before: the vocabulary changes with nearly every entry. */
  readonly #phonesOf = new Map<string, readonly string[] | null>();

  private constructor(
    private readonly model: PhraseNetwork,
    private readonly classes: SoundClasses,
    /** Null where the language that is spoken is not the network's. */
    private readonly pronounce: Pronounce | null,
    private readonly nowMs: () => number,
  ) {}

  static async create(
    read: ReadModelFile,
    pronounce: Pronounce | null,
    nowMs: () => number,
  ): Promise<NetworkListener> {
    const classes = await SoundClasses.load(read);
    return new NetworkListener(await PhraseNetwork.create(read), classes, pronounce, nowMs);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    this.#vocabulary = vocabulary;
    this.#targets = this.targetsOf(vocabulary.phrases.map(({ words }) => words));
    [this.#address] = this.targetsOf(['']);
    this.#wantExamples();
    return [];
  }

  /** Learns from these cards instead of the earlier ones; what is known of a card stays. */
  async setCards(cards: readonly CardVoice[]): Promise<void> {
    this.#cards = cards.map(
      (card) =>
        this.#cards.find((known) => known.isOf(card)) ??
        new CardExamples((pcm) => this.model.traitsOf(pcm), card),
    );
    this.#wantExamples();
  }

  get learning(): CardLearning {
    return this.#cards
      .map(({ learning }) => learning)
      .reduce((a, b) => ({ done: a.done + b.done, total: a.total + b.total }), NOTHING_TO_LEARN);
  }

  async learnSome(): Promise<void> {
    await this.#cards.find((card) => !isLearnt(card))?.learnSome();
  }

  /** Whether there is an example of this phrase. */
  knows(words: string): boolean {
    const said = toSaid(this.#vocabulary, words);
    return this.#learntCards().some((card) => card.knows(said));
  }

  /** `also`: a phrase that is compared with examples however unlikely the network finds it. */
  async consider(utterance: Float32Array, also: string | null = null): Promise<NetworkOpinion> {
    const { phrases } = this.#vocabulary;
    const heard = phrases.length === 0 ? null : await this.model.hear(utterance);
    if (!heard) return { network: [], ranked: [], unsayable: [] };
    const network = rankPhrases(heard, this.#targets);
    const likely = this.pronounce
      ? network.slice(0, NETWORK_LIMITS.compared).map(({ words }) => words)
      : phrases.map(({ words }) => words);
    const compared = new Set(also === null ? likely : [...likely, also]);
    const ranked = this.#compare(heard, [...compared]);
    return {
      network,
      ranked,
      unsayable: this.#weighOthers(heard, withCards(network, ranked)),
      ...(this.#address && { addressDistance: distanceOfBeginning(heard, this.#address) }),
    };
  }

  /** These phrases as a network knows them, behind the address phrase of this moment; those that nobody can pronounce are left out. */
  targetsOf(phrases: readonly string[]): readonly Targets[] {
    const { pronounce } = this;
    if (!pronounce) return [];
    return toTargets(this.#vocabulary.addressPhrase, phrases, this.classes, (word) => {
      const known = this.#phonesOf.get(word);
      if (known !== undefined) return known;
      const phones = pronounce(word);
      this.#phonesOf.set(word, phones);
      return phones;
    });
  }

  async recognise(utterance: Float32Array): Promise<HeardPhrase> {
    const startMs = this.nowMs();
    const opinion = await this.consider(utterance);
    return {
      ...decideByNetwork(opinion, this.#vocabulary),
      listener: this.name,
      speechMs: (utterance.length * 1000) / SAMPLE_RATE_HZ,
      decisionMs: this.nowMs() - startMs,
    };
  }

  async close(): Promise<void> {
    await this.model.close();
  }

  #wantExamples(): void {
    const said = this.#vocabulary.phrases.map(({ words }) => toSaid(this.#vocabulary, words));
    for (const card of this.#cards) card.want(said);
  }

  /** All or none: with half of the examples a phrase without any would look near. */
  #learntCards(): readonly CardExamples[] {
    return isLearnt(this) ? this.#cards : [];
  }

  #weighOthers(
    heard: HeardTraits,
    likely: readonly PhraseAtDistance[],
  ): readonly PhraseAtDistance[] {
    const reach = (likely[0]?.distance ?? 0) + TEXT_LIMITS.reach;
    // What the text listener may yet make the likeliest.
    const sizes = likely
      .filter(({ words, distance }) => distance <= reach && isValue(words, this.#vocabulary))
      .slice(0, NETWORK_LIMITS.otherNumbersOf);
    const others = listOtherNumbers(
      sizes.map(({ words }) => words),
      this.#vocabulary,
    );
    return rankPhrases(heard, this.targetsOf(others));
  }

  /** The nearest card counts: whoever speaks, the other cards are strangers'. */
  #compare(heard: HeardTraits, phrases: readonly string[]): readonly PhraseAtDistance[] {
    const cards = this.#learntCards();
    if (cards.length === 0) return [];
    const traits = heard.traits();
    const said = phrases.map((words) => toSaid(this.#vocabulary, words));
    const byCard = cards.map((card) => card.distances(traits, said));
    return phrases
      .map((words, index) => ({
        words,
        distance: Math.min(...byCard.map((distances) => distances[index] ?? Infinity)),
      }))
      .filter(({ distance }) => distance < Infinity)
      .sort((a, b) => a.distance - b.distance);
  }
}

/** A phrase as it is said: the address phrase first. */
function toSaid({ addressPhrase }: Vocabulary, words: string): string {
  return splitWords(`${addressPhrase} ${words}`).join(' ');
}
