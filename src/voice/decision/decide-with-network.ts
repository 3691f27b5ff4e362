/**
 * The decision where the phrase network has an opinion. It hears strangers and noise far
 * better than the grammar, a card's examples hear their own voice better still, and the text
 * listener tells apart what people say; a clear opinion of these together is taken, unless
 * something contests it: the grammar, the network alone where the card says otherwise, or
 * of a size the text listener. Then, and in doubt, the two candidates are asked about. Pure.
 */
import type { Vocabulary } from '../../domain';
import type { Choice, Decision, Opinions } from './decide-both';
import { chooseWithoutNetwork, withScore } from './decide-both';
import {
  DECISION_LIMITS, NETWORK_LIMITS as LIMITS, TEXT_LIMITS, TWO_VOICES_LIMITS,
} from './decision-limits'; // prettier-ignore
import type { GrammarOpinion } from '../grammar/grammar-decision';
import { rivalByGrammar } from './grammar-rival';
import { gapAfter, isSameOrder, isTalk, isValue, NO_TEXT, withCards, withText } from './rankings';
import type { PhraseAtDistance } from './rankings';
import type { Evidence } from './score';
import { isBackedByText, isQuestioned } from './text-opinion';

/** Decides with the vocabulary of this moment; what two people said at once is refused, not guessed. */
export function decideFromAll(opinions: Opinions, vocabulary: Vocabulary): Decision {
  return askWhereUnsure(chooseFromAll(opinions, vocabulary), opinions, vocabulary);
}

/**
 * What may be said now is told apart well; what may not be said now is nearest to something
 * too, and nothing contests it. That it is improbable shows it.
 */
function askWhereUnsure(choice: Choice, evidence: Evidence, vocabulary: Vocabulary): Decision {
  const decision = withScore(choice, evidence, vocabulary);
  const { words, score } = decision;
  if (words === null || score >= LIMITS.leastScore) return decision;
  // In a language without a network the card alone says what else is near.
  const { network, ranked } = evidence;
  const all = network.length > 0 ? withText(withCards(network, ranked), evidence) : ranked;
  return { ...askAbout(words, secondOf(all, words, vocabulary)), score };
}

function chooseFromAll(opinions: Opinions, vocabulary: Vocabulary): Choice {
  const choice = chooseAsOneVoice(opinions, vocabulary);
  if (choice.words === null && !choice.candidates)
    return isAddressed(opinions) ? choice : { ...choice, isTalk: true };
  return areTwoVoices(opinions, vocabulary) ? { words: null, hasTwoVoices: true } : choice;
}

/** Whether the address phrase was heard, whatever came after. Where nobody can tell, or none is needed, what was said was meant for the wall. */
function isAddressed({ addressDistance = 0 }: Opinions): boolean {
  return addressDistance <= LIMITS.addressDistance;
}

function areTwoVoices({ network, ranked, secondVoice }: Opinions, vocabulary: Vocabulary): boolean {
  const share = secondVoice();
  const isClear =
    (network[0]?.distance ?? Infinity) <= TWO_VOICES_LIMITS.clearDistance ||
    ownCardGap(ranked, vocabulary) >= TWO_VOICES_LIMITS.clearCardGap;
  return share >= (isClear ? TWO_VOICES_LIMITS.sureShare : TWO_VOICES_LIMITS.likelyShare);
}

/** Without a network's opinion grammar and cards decide. */
function chooseAsOneVoice(opinions: Opinions, vocabulary: Vocabulary): Choice {
  const sounds = withCards(opinions.network, opinions.ranked);
  const all = withText(sounds, opinions);
  const [nearest] = sounds;
  // How near it is, and whether it was talk, the text listener does not say.
  const top = sounds.find(({ words }) => words === all[0]?.words);
  if (!nearest || !top) return chooseWithoutNetwork(opinions, vocabulary);
  const isOwn = isOwnVoice(opinions.ranked, top, vocabulary);
  if (!isHeard(nearest, opinions)) return onlyAgreed(opinions, vocabulary);
  const rival = rivalTo(opinions, top, isOwn, vocabulary) ?? unheardOf(nearest, top, vocabulary);
  const isTaken =
    rival === null &&
    isHeard(top, opinions) &&
    !isQuestioned(opinions, top, vocabulary) &&
    isSure(opinions, top, isOwn, vocabulary);
  return isTaken
    ? { words: top.words }
    : askAbout(top.words, rival ?? secondOf(all, top.words, vocabulary));
}

/** An order is carried out without a read-back: the text listener alone puts none before what the others heard. */
function unheardOf(
  nearest: PhraseAtDistance,
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): string | null {
  const isOther = !isSameOrder(nearest.words, top.words, vocabulary);
  return isOther && !isValue(top.words, vocabulary) ? nearest.words : null;
}

/** Whether it leads by enough, or by less with the grammar's word for it. An order needs the lead without the text listener. */
function isSure(
  opinions: Opinions,
  top: PhraseAtDistance,
  isOwn: boolean,
  vocabulary: Vocabulary,
): boolean {
  const counted = isValue(top.words, vocabulary) ? opinions : { ...opinions, ...NO_TEXT };
  const { grammar, network, ranked } = counted;
  const gap = gapAfter(withText(withCards(network, ranked), counted), vocabulary);
  const isClear = (isOwn || top.distance <= LIMITS.sureDistance) && gap >= leastGapOf(counted);
  // Asked last: the margin is dear, and what is clear doesn't need it.
  return isClear || (gap >= LIMITS.backedGap && isNamed(grammar, top, vocabulary));
}

function askAbout(words: string, other: string | null): Choice {
  return { words: null, candidates: other === null ? [words] : [words, other] };
}

/** A breath is near to no card: where one is near, few sounds are a short word that the network half heard. */
function isHeard(phrase: PhraseAtDistance, { ranked: [nearest] }: Opinions): boolean {
  const isNear = nearest !== undefined && nearest.distance <= LIMITS.heardDistance;
  return !isTalk(phrase) && (isNear || !isHardlyHeard(phrase));
}

/** A phrase of another meaning that another listener is sure enough of; null where there is none. */
function rivalTo(
  opinions: Opinions,
  top: PhraseAtDistance,
  isOwn: boolean,
  vocabulary: Vocabulary,
): string | null {
  const { grammar, network } = opinions;
  const leastGap = isOwn ? LIMITS.rivalGapOfOwn : LIMITS.sureGap;
  const isVouchedFor = isOwn || isBackedByText(opinions, top, vocabulary);
  return (
    rivalByNetwork(network, top, leastGap, vocabulary) ??
    rivalByGrammar(grammar, top, isVouchedFor, vocabulary)
  );
}

/** By how much must the first phrase lead, with what each listener that was asked adds to a lead? A stranger's card is no help. */
function leastGapOf({ ranked, text }: Opinions): number {
  if (text.length > 0) return isKnownVoice(ranked) ? LIMITS.sureGapWithCard : TEXT_LIMITS.sureGap;
  return ranked.length > 0 ? LIMITS.sureGapWithCard : LIMITS.sureGap;
}

/** In faint sound no phrase is unlikely: the network names hardly anything, and nothing else either. */
function isHardlyHeard({ shareOfSounds = 1 }: PhraseAtDistance): boolean {
  return shareOfSounds < LIMITS.leastShareOfSounds;
}

/** To the network it was talk: it takes the grammar and a card, both of them, to say otherwise. */
function onlyAgreed(opinions: Opinions, vocabulary: Vocabulary): Choice {
  const choice = chooseWithoutNetwork(opinions, vocabulary);
  const others = [opinions.grammar.words, opinions.ranked[0]?.words ?? null];
  const isAgreed = others.every((words) => isSameOrder(choice.words, words, vocabulary));
  const meant = opinions.network.find(({ words }) => words === choice.words);
  // A size that may not be said now is far from all that may, and near to what it is taken for.
  return isAgreed && !(meant && isQuestioned(opinions, meant, vocabulary))
    ? choice
    : { words: null };
}

/** Whether the speaker's own card is far nearer to this phrase than to any of another meaning. */
function isOwnVoice(
  ranked: readonly PhraseAtDistance[],
  top: PhraseAtDistance,
  vocabulary: Vocabulary,
): boolean {
  return ranked[0]?.words === top.words && ownCardGap(ranked, vocabulary) >= LIMITS.ownGap;
}

/**
 * How much nearer the speaker's own card is to one phrase than to any of another meaning. A
 * card that is near to nothing is a stranger's, and one that knows no other phrase tells nothing.
 */
function ownCardGap(ranked: readonly PhraseAtDistance[], vocabulary: Vocabulary): number {
  const gap = gapAfter(ranked, vocabulary);
  return !isKnownVoice(ranked) || gap === Infinity ? 0 : gap;
}

/** Whether a card is as near to something that may be said as to its owner's voice, and to no talk. */
function isKnownVoice([nearest]: readonly PhraseAtDistance[]): boolean {
  return nearest !== undefined && nearest.distance <= LIMITS.ownDistance;
}

/** Whether the grammar names the phrase too, and not without reason. */
function isNamed(grammar: GrammarOpinion, top: PhraseAtDistance, vocabulary: Vocabulary): boolean {
  return (
    isSameOrder(grammar.words, top.words, vocabulary) &&
    grammar.margin() >= DECISION_LIMITS.agreedMargin
  );
}

/** What the network heard clearly, by so much over the next, where the cards say otherwise. */
function rivalByNetwork(
  network: readonly PhraseAtDistance[],
  top: PhraseAtDistance,
  leastGap: number,
  vocabulary: Vocabulary,
): string | null {
  const own = network[0];
  if (!own || isSameOrder(own.words, top.words, vocabulary)) return null;
  const isClear = own.distance <= LIMITS.sureDistance && gapAfter(network, vocabulary) >= leastGap;
  return isClear ? own.words : null;
}

function secondOf(
  ranking: readonly PhraseAtDistance[],
  first: string,
  vocabulary: Vocabulary,
): string | null {
  return ranking.find(({ words }) => !isSameOrder(words, first, vocabulary))?.words ?? null;
}

/** Without a grammar, as `npm run listen -- --listener embedding` asks for. */
export function decideByNetwork(
  opinion: Pick<Opinions, 'network' | 'ranked' | 'unsayable'>,
  vocabulary: Vocabulary,
): Decision {
  const silent = { words: null, margin: () => -Infinity, unexplainedMs: 0, speechMs: 0 };
  const heard = { ...opinion, ...NO_TEXT };
  const opinions = { ...heard, grammar: silent, knows: () => true, secondVoice: () => 0 };
  const choice = chooseFromAll(opinions, vocabulary);
  return askWhereUnsure(choice, { ...heard, grammar: null }, vocabulary);
}
