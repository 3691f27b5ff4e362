/**
 * Which orders were answered, and how, so that an order that comes twice is carried
 * out once. Holds the answers given here and those overheard from another writer.
 */
import type { RequestId } from './relay-messages';

/** How many answers are kept: far more than can wait at once in a few windows. */
export const REMEMBERED_ANSWERS = 500;

export interface AnswerBook<Reply> {
  /** The answer to an id: the remembered one, or what `work` gives; null and a failure are not remembered. */
  once(id: RequestId, work: () => Promise<Reply | null>): Promise<Reply | null>;
  /** Remembers an answer that another window gave. */
  overhear(id: RequestId, reply: Reply): void;
}

/** An empty book. */
export function createAnswerBook<Reply>(): AnswerBook<Reply> {
  const answers = new Map<RequestId, Promise<Reply | null>>();

  function remember(id: RequestId, answer: Promise<Reply | null>): void {
    answers.set(id, answer);
    const [oldest] = answers.keys();
    if (answers.size > REMEMBERED_ANSWERS && oldest !== undefined) answers.delete(oldest);
  }

  return {
    once: (id, work) => {
      const known = answers.get(id);
      if (known !== undefined) return known;
      const answer = work();
      remember(id, answer);
      const forget = (): void => void answers.delete(id);
      answer.then((reply) => (reply === null ? forget() : undefined), forget);
      return answer;
    },
    overhear: (id, reply) => remember(id, Promise.resolve(reply)),
  };
}
