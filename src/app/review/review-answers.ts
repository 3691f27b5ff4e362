/**
 * What the review's worker answers to each message. Every request that waits gets an
 * answer, and what goes wrong unforeseen is told as `review-failed`: nothing is left waiting.
 */
import { fault } from '../../domain';
import type { ReviewDesk } from './review-desk';
import type { ReviewReply, ReviewRequest } from './review-messages';

type Desk = Pick<
  ReviewDesk,
  | 'load'
  | 'cancel'
  | 'resume'
  | 'look'
  | 'lookBeside'
  | 'file'
  | 'bring'
  | 'mark'
  | 'unmark'
  | 'addDemo'
  | 'keepHours'
  | 'forgetAside'
  | 'report'
>;

/** Does what is asked and replies. `adopt` takes the key that comes with a load. Never rejects. */
export async function answerRequest(
  request: ReviewRequest,
  desk: Desk,
  adopt: (key: CryptoKey | null) => void,
  reply: (message: ReviewReply) => void,
): Promise<void> {
  try {
    if (request.kind === 'load') {
      adopt(request.key);
      await desk.load();
    } else if (request.kind === 'cancel') desk.cancel();
    else reply(await makeReply(request, desk));
  } catch (cause) {
    const failed = fault('review-failed', { detail: String(cause) });
    if ('id' in request) reply({ kind: 'done', id: request.id, fault: failed });
    else desk.report(failed);
  }
}

async function makeReply(
  request: Exclude<ReviewRequest, { kind: 'load' | 'cancel' }>,
  desk: Desk,
): Promise<ReviewReply> {
  const { id } = request;
  switch (request.kind) {
    case 'resume':
      return { kind: 'brought', id, result: await desk.resume() };
    case 'look':
      return { kind: 'looked', id, answer: desk.look(request.question) };
    case 'look-beside':
      return { kind: 'looked-beside', id, beside: desk.lookBeside(request.question) };
    case 'file':
      return { kind: 'file', id, text: await desk.file(request.filter, request.file) };
    case 'bring':
      return { kind: 'brought', id, result: await desk.bring(request.text) };
    case 'mark':
      return { kind: 'done', id, fault: await desk.mark([request.mark]) };
    case 'unmark':
      return { kind: 'done', id, fault: await desk.unmark(request.mark) };
    case 'hours':
      return { kind: 'done', id, fault: await desk.keepHours(request.hours) };
    case 'forget-aside':
      return { kind: 'done', id, fault: await desk.forgetAside() };
    case 'demo':
      return { kind: 'done', id, fault: await desk.addDemo(request.count) };
  }
}
