/** Who is heard how well in the live test: one phrase is asked for at a time, and what was made of it counts. Pure. */
import type { TestHeard } from '../card-services';

/** What became of one phrase, each time it was asked for. */
export interface PhraseScore {
  readonly right: number;
  /** Not made out, not sure, or two people at once: the wall would ask again. */
  readonly askedAgain: number;
  /** What it was taken for instead. */
  readonly takenFor: readonly string[];
}

export interface LiveTally {
  /** The phrase to say now; null where there is none. */
  readonly next: string | null;
  readonly scores: Readonly<Record<string, PhraseScore>>;
}

/** After how many failures is the next phrase asked for? One may be an accident. */
const MOST_IN_A_ROW = 2;
const NONE: PhraseScore = { right: 0, askedAgain: 0, takenFor: [] };

export function startTally(phrases: readonly string[]): LiveTally {
  return { next: phrases[0] ?? null, scores: {} };
}

/** Counts what was heard for the phrase that was asked for. */
export function countHeard(
  tally: LiveTally,
  heard: TestHeard,
  phrases: readonly string[],
): LiveTally {
  const { next, scores } = tally;
  if (next === null) return tally;
  const before = scores[next] ?? NONE;
  const isRight = heard.words === next;
  const score: PhraseScore = {
    right: before.right + (isRight ? 1 : 0),
    askedAgain: before.askedAgain + (heard.words === null ? 1 : 0),
    takenFor: isRight || heard.words === null ? before.takenFor : [...before.takenFor, heard.words],
  };
  const counted = { next, scores: { ...scores, [next]: score } };
  const failures = score.askedAgain + score.takenFor.length;
  return isRight || failures % MOST_IN_A_ROW === 0 ? skipPhrase(counted, phrases) : counted;
}

/** Asks for the phrase that was asked for least, the one after this where several were. */
export function skipPhrase(tally: LiveTally, phrases: readonly string[]): LiveTally {
  const from = phrases.indexOf(tally.next ?? '') + 1;
  const inTurn = [...phrases.slice(from), ...phrases.slice(0, from)];
  const timesOf = (words: string): number => {
    const { right, askedAgain, takenFor } = tally.scores[words] ?? NONE;
    return right + askedAgain + takenFor.length;
  };
  const least = Math.min(...inTurn.map(timesOf));
  return { ...tally, next: inTurn.find((words) => timesOf(words) === least) ?? null };
}

/** In words, such as “right twice, asked again once”; null where it was not asked for yet. */
export function describeScore(score: PhraseScore | undefined): string | null {
  if (!score) return null;
  const { right, askedAgain, takenFor } = score;
  const parts = [
    right > 0 ? `right ${times(right)}` : '',
    askedAgain > 0 ? `asked again ${times(askedAgain)}` : '',
    ...[...new Set(takenFor)].map((words) => `taken for “${words}”`),
  ];
  return parts.filter((part) => part !== '').join(', ');
}

function times(count: number): string {
  return count === 1 ? 'once' : count === 2 ? 'twice' : `${count} times`;
}
