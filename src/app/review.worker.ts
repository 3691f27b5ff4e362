/** The worker of the look back over many cases: messages in, messages out. */
import type { Clock } from '../domain';
import { createLock, createSettings } from '../record';
import { ReviewDesk } from './review-desk';
import type { ReviewReply, ReviewRequest } from './review-messages';

const reply = (message: ReviewReply) => {
  postMessage(message);
};
const clock: Clock = { wallMs: () => Date.now(), monoMs: () => performance.now() };
/** Locked until the window says otherwise; it never sees a passphrase. */
const lock = createLock(createSettings(globalThis.indexedDB), clock);
const desk = new ReviewDesk((state) => {
  reply({ kind: 'state', state });
}, lock);

addEventListener('message', ({ data }: MessageEvent<ReviewRequest>) => {
  void answer(data);
});

async function answer(request: ReviewRequest): Promise<void> {
  switch (request.kind) {
    case 'load':
      lock.adopt(request.key);
      await desk.load();
      return;
    case 'cancel':
      desk.cancel();
      return;
    case 'resume':
      reply({ kind: 'done', id: request.id, fault: await desk.resume() });
      return;
    case 'look':
      reply({ kind: 'looked', id: request.id, answer: desk.look(request.question) });
      return;
    case 'file':
      reply({ kind: 'file', id: request.id, text: await desk.file(request.filter, request.file) });
      return;
    case 'bring':
      reply({ kind: 'done', id: request.id, fault: await desk.bring(request.text) });
      return;
    case 'mark':
      reply({ kind: 'done', id: request.id, fault: await desk.mark([request.mark]) });
      return;
    case 'unmark':
      reply({ kind: 'done', id: request.id, fault: await desk.unmark(request.mark) });
      return;
    case 'demo':
      reply({ kind: 'done', id: request.id, fault: await desk.addDemo(request.count) });
  }
}
