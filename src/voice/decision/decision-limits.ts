/**
 * Every threshold of the decision from all listeners, each with the measurement that set
 * it: `npm run bench -- voice --tuning` with CUEWALL_BENCH_OPINIONS naming a file (tuning
 * voices and tuning half of the human talk, none of them used for figures; of the human
 * digits every fourth recording). Where it says "the fit's split", what the score was fitted
 * on set it too, so figures on that split are not unseen. docs/voice-tried.md has the tables.
 * What a measure is made of (levels, pauses, combs) stands beside the measure, in its own file.
 */
export const DECISION_LIMITS = {
  /**
   * Agreement: how far may a card's examples be? 107 stretches of human talk: none nearer
   * than 0.741. Human digits at 10 dB: 19 of 20 nearer than 0.72.
   */
  agreedDistance: 0.72,
  /** Agreement: how much worse than free sounds may the grammar's phrase be, per frame? Right ones at 5 dB: -12.4 at worst. */
  agreedMargin: -13,
  /** How much loud sound may the grammar's words leave over, in milliseconds? A breath, a footstep; docs/voice-tried.md. */
  unexplainedMs: 250,
  /** One listener alone, never for a value: how near must the examples be? Nearest wrong human digit: 0.535. */
  aloneDistance: 0.5,
  /** One listener alone: how much farther must the next phrase be? Of human digits that far ahead 99 of 100 were right. */
  aloneGap: 0.05,
  /** From which distance on is an utterance talk, not a doubtful command? Between 0.72 and 0.741, as above. */
  doubtDistance: 0.73,
  /**
   * By how much must the grammar's phrase beat free sounds, per frame, to count by itself: as
   * its own decision, or as a doubtful command whatever the examples say? Measured on human
   * talk; docs/voice-tried.md.
   */
  grammarMargin: -2,
  /**
   * What is the shortest digit that anyone says, in seconds? A grammar squeezes one into 90 ms
   * where only one of two was said before a pause. Shortest of 3,000 human digits 144 ms, of
   * 115 synthetic ones 160.
   */
  shortestDigitS: 0.12,
} as const;

/** How an utterance is compared with a voice card. */
export const CARD_LIMITS = {
  /** How many of a phrase's nearest examples are averaged? On the tuning quarter of human digits the nearest one or two got no more right. */
  nearestExamples: 3,
} as const;

/**
 * The phrase network, where "distance" is the natural log of how much less likely a phrase is
 * than the likeliest path of all, by words and sounds together. Set on 504 utterances of the
 * three tuning voices (clean, 10 and 5 dB of mixed noise, up to a hundred phrases legal) and
 * 454 stretches of human talk (15 minutes, tuning half): right phrases lay at most 24 away,
 * the nearest phrase to any talk at least 69.
 */
export const NETWORK_LIMITS = {
  /** Farther than this it was talk; half-way between right phrases and talk. */
  talkDistance: 45,
  /**
   * How many sounds must be heard at all, as a share of the phrase's own? 612 tuning commands:
   * 0.89 and more at 10 dB, 0.57 and 0.65 the least two at 5 dB. A breath before talk, 30 dB
   * below it, was near to "confirm" by distance alone (20), with 7 sounds of its 13 (0.54).
   */
  leastShareOfSounds: 0.55,
  /**
   * How near must a card be for fewer sounds to do? Ten bare digits legal, 18 cards of six
   * persons: of 251 pieces of human talk in a quiet room those with too few sounds lay no nearer
   * than 0.711; of 435 in mixed noise at 10 dB one did, a fragment near to "five". Own digits
   * with too few sounds lay at 0.54 to 0.66. docs/voice-tried.md has what 0.69 and 0.72 do.
   */
  heardDistance: 0.66,
  /**
   * Up to which distance was the address phrase heard, where nothing else was made out?
   * `npm run bench -- addressed --tuning`: of human talk 5 of 274 pieces in a quiet room and 31
   * of 467 in mixed noise at 10 dB are nearer; of sentences that people read, their own first two
   * words taken for the address phrase, 138 of 160, and with another sentence's first words 4.
   */
  addressDistance: 30,
  /** Up to here a phrase is taken without another listener, unless its score makes it improbable; 99 of 100 right ones are nearer than 10. */
  sureDistance: 25,
  /** How much farther must the next phrase of another meaning be? The two wrong ones of 504: 3 and 8, both at 5 dB. */
  sureGap: 10,
  /** The same with a card's distances counted in: of 600 human digits at 10 dB this leaves 4 wrong and costs none; 10 leaves 6. */
  sureGapWithCard: 12,
  /** The same where the grammar names the phrase too. */
  backedGap: 4,
  /** What one unit of a card's distance weighs against the network's log-likelihood. */
  perCardDistance: 400,
  /**
   * Where between a card's nearest phrase and the next does one without examples stand? Of 39
   * that tuning voices said with their own card the nearest other led by at most 0.114 (46, half
   * of it 23), and the network had the right one ahead by 48 and more; of what the card covers
   * the nearest leads by up to 0.34.
   */
  shareOfUnknown: 0.5,
  /** A card this much nearer to its phrase than to any other needs no other listener. */
  ownGap: 0.05,
  /** Farther than this a card is a stranger's: nearest talk 0.741; of 1,000 own digits 99 in 100 lay nearer than 0.708. */
  ownDistance: 0.72,
  /**
   * From which margin on may the grammar's phrase contest such a card, or what the text listener
   * vouches for? At 0 it beats any free sounds, and contests 1 of 600 right digits clean, 4 at
   * 10 dB; at -2 it would be 16 and 11. Of 14 phrases of the fit's split that only the grammar
   * heard otherwise none was as the grammar said.
   */
  rivalMarginOfVouched: 0,
  /**
   * How much farther must the network's next phrase be to contest such a card? Of human digits
   * that it heard otherwise by 10 and more, the speaker's own card was right in 11 of 12, all
   * below 18; beyond 20 another speaker's card was never right and the network always (46).
   */
  rivalGapOfOwn: 20,
  /** From which margin on may the grammar's word contest a size? At 10 dB it then contests 6 of 168 right ones. */
  rivalMarginOfSize: -4,
  /**
   * How probable must a phrase be to be taken, by its score? More probable than not. On the
   * tuning quarter with two cards each, right, wrong, and wrong where the digit may not be said
   * then, of 1,200 each: from 0.3 on 1,184, 4, 69 clean and 1,146, 9, 135 at 10 dB; from 0.5 on
   * 1,179, 3, 54 and 1,144, 3, 111; from 0.7 on 1,174, 2, 38 and 1,132, 0, 75, but then a person
   * who says 28 numbers without a card is asked about 3 of them instead of 2.
   */
  leastScore: 0.5,
  /** Of how many of the likeliest sizes are the neighbours thought of that may not be said now? Each has up to forty. */
  otherNumbersOf: 4,
  /** By how much must such a one be likelier, text listener included, for the size to be asked about? */
  unsayableLead: 4,
  /** How many of the network's likeliest phrases are compared with a card's examples? Ten at least: of 1,193 human digits of the tuning quarter the right one of ten stood last for 20. Of 504 tuning commands it stood first for 502. */
  compared: 16,
} as const;

/**
 * The text listener, asked about the likeliest phrases of the network and cards. Set on human
 * digits (the tuning quarter, every second recording; 300 clean, 247 in scripted noise at
 * 10 dB, babble apart) and on 270 commands of the tuning and calibration voices in noise.
 */
export const TEXT_LIMITS = {
  /**
   * From which gap of the network alone on is it not asked? Of 600 human digits that the network
   * heard wrongly none led by more than 19, of 270 commands none by more than 24.
   */
  needlessGap: 30,
  /** What the first phrase must lead by where it was asked and no card is in use. Of strangers' digits 91 % clean and 89 % in noise do, and 0.7 and 0.4 % wrong ones; with 12 it is 92, 89, 1.3 and 0.8. */
  sureGap: 14,
  /** How many phrases is it asked about? Of ten digits all; of 270 commands the right one was always among ten. */
  asked: 10,
  /** How far behind the likeliest may a phrase be to be asked about? What it can add at most, and the lead that is needed then. */
  reach: 46,
  /**
   * The same for the model's writing once the head has answered: each text costs 5 to 8 ms. Of
   * 2,270 utterances (fit's split, figures of the score, tuning quarter) it decides 3 otherwise
   * than without this limit, each right where it asked before; a sixth to a half of the texts is left.
   */
  reachOfWriting: 26,
  /** Of sizes that may not be said now, how many? */
  askedUnsayable: 2,
  /** What one unit of its log-likelihood by writing weighs against the network's; by the head on what it hears a unit weighs one. */
  perTextUnit: 2,
  /** Farther than this it says no more: where it understands nothing it is far off. */
  mostDistance: 6,
  mostHeadDistance: 20,
  /**
   * How much less likely must it find a size to contest it, or the grammar's phrase to vouch for
   * another? From 4 on it contests none of 300 right digits of a card's owner, 1 of 247 at
   * 10 dB; with somebody else's card in use it leaves 1.0 and 1.6 % wrong of 2.0 and 2.8.
   */
  rivalDistance: 4,
} as const;

/**
 * When two people speak at once, by the part of the loud sound in which a second pitch is
 * found (second-voice.ts). Set on tuning voices and on the tuning half of human talk: 20
 * commands alone in 21 rooms, 109 stretches of one person's talk, and both mixed with a
 * second voice 0, 3 and 6 dB softer.
 */
export const TWO_VOICES_LIMITS = {
  /** From here on a second voice is likely. One person: 1 of 109, in café talk 3 of 20, in babble at 10 dB none; two: two thirds. */
  likelyShare: 0.02,
  /** From here on it is sure, however clear the phrase: one voice reached 0.062, in the hoarse end of a word; in café talk 1 of 20 went beyond. */
  sureShare: 0.1,
  /** Where it is only likely: how clear must a phrase be to the network to be taken all the same? One voice at 10 dB: half lie below -1; two at one level: none below 1. */
  clearDistance: 0,
  /** The same by a card's gap: the seven of 1,200 human digits that were refused had 0.1 and more, but for one. */
  clearCardGap: 0.1,
  /** From which part of the looks before the first word on does the room hum by itself? Fans and drills: 0.7 and more; café talk: 0.3. */
  hummingShare: 0.5,
} as const;

/**
 * The browser's own recogniser. Not measured: Debian's browser has no language pack for it.
 */
export const THIRD_OPINION_LIMITS = {
  /**
   * For how long is it waited for where the wall's own listeners doubt, in milliseconds? They
   * need 600 themselves (utterances.ts), so a doubt is told 1.3 s after the last word at the latest.
   */
  patienceMs: 700,
} as const;
