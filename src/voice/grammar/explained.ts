/**
 * How much of an utterance a recognised phrase explains. A grammar always finds
 * its best phrase, also in talk that holds none; then loud stretches are left over
 * as "silence" before, between or after the words. Pure.
 */
import { DECISION_LIMITS } from '../decision/decision-limits';
import { FRAME_SAMPLES } from '../hearing/voice-activity';

/** One piece of an alignment, in seconds. */
export interface Segment {
  readonly fromS: number;
  readonly lengthS: number;
  /** Null for silence and noises. */
  readonly word: string | null;
}

/** How loud may "silence" be? As a share of the way, in dB, from the quiet to the loud frames. */
const HALF_WAY = 0.5;
/** Which frames stand for quiet and loud? Tenth and ninetieth percentile, so that clicks don't count. */
const QUIET_SHARE = 0.1;
const LOUD_SHARE = 0.9;
const FRAMES_PER_S = 100;

export interface Explanation {
  /** Loud sound outside every word, in milliseconds. */
  readonly unexplainedMs: number;
  /** Time that the words take, in milliseconds. */
  readonly wordsMs: number;
}

/** Measures how much sound the words leave over. Audio at 16 kHz. */
export function explainUtterance(pcm: Float32Array, segments: readonly Segment[]): Explanation {
  const levels = frameLevelsDb(pcm);
  const isInWord = new Array<boolean>(levels.length).fill(false);
  for (const { fromS, lengthS, word } of segments) {
    if (word !== null) isInWord.fill(true, frameAt(fromS), frameAt(fromS + lengthS));
  }
  const sorted = levels.toSorted((a, b) => a - b);
  const quietDb = percentile(sorted, QUIET_SHARE);
  const limitDb = quietDb + HALF_WAY * (percentile(sorted, LOUD_SHARE) - quietDb);
  let unexplained = 0;
  let inWords = 0;
  levels.forEach((level, index) => {
    if (isInWord[index]) inWords += 1;
    else if (level > limitDb) unexplained += 1;
  });
  return { unexplainedMs: unexplained * 10, wordsMs: inWords * 10 };
}

/** Whether a digit takes less time than it takes to say one. */
export function hasSqueezedDigit(segments: readonly Segment[], digits: readonly string[]): boolean {
  return segments.some(
    ({ word, lengthS }) =>
      word !== null && digits.includes(word) && lengthS < DECISION_LIMITS.shortestDigitS,
  );
}

function frameAt(seconds: number): number {
  return Math.round(seconds * FRAMES_PER_S);
}

function frameLevelsDb(pcm: Float32Array): number[] {
  const count = Math.floor(pcm.length / FRAME_SAMPLES);
  return Array.from({ length: count }, (_, index) => {
    const frame = pcm.subarray(index * FRAME_SAMPLES, (index + 1) * FRAME_SAMPLES);
    return 10 * Math.log10(frame.reduce((sum, x) => sum + x * x, 0) / FRAME_SAMPLES + 1e-10);
  });
}

function percentile(sorted: readonly number[], share: number): number {
  return sorted[Math.floor(share * (sorted.length - 1))] ?? 0;
}
