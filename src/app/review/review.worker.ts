/** The worker of the look back over many cases: messages in, messages out. */
import type { Clock } from '../../domain';
import { createLock, createSettings } from '../../record';
import { answerRequest } from './review-answers';
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
  const adopt = (key: CryptoKey | null) => {
    lock.adopt(key);
  };
  void answerRequest(data, desk, adopt, reply);
});
