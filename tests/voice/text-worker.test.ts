import { describe, expect, it } from 'vitest';
import { NO_TEXT, TextWorkerListener } from '../../src/voice';
import type { TextQuestion, TextWorkerLike } from '../../src/voice';
import { HandWorker } from '../support/hand-worker';

type Sent = Parameters<TextWorkerLike['postMessage']>[0];
type Told = Parameters<NonNullable<TextWorkerLike['onmessage']>>[0]['data'];

async function start() {
  const worker = new HandWorker<Sent, Told>();
  const failures: string[] = [];
  const starting = TextWorkerListener.start(worker, 'https://wall.test/model/', (detail) =>
    failures.push(detail),
  );
  worker.tell({ type: 'ready' });
  return { worker, failures, listener: await starting };
}

function questionAbout(...phrases: readonly string[]): TextQuestion {
  return {
    addressPhrase: 'theatre wall',
    asked: phrases.map((words) => ({ words, distance: 1, isNamed: false })),
    targets: phrases.map((words) => ({ words, wordIds: [1], phoneIds: [1, 2] })),
  };
}

const UTTERANCE = new Float32Array([0.1, -0.1]);

describe('the text listener in a worker of its own', () => {
  it('[VOI106] begins with the utterance at once, and answers each question with its own answer', async () => {
    const { worker, listener } = await start();
    expect(worker.sent).toEqual([{ type: 'start', networkBase: 'https://wall.test/model/' }]);
    const ask = listener.hear(UTTERANCE);
    expect(worker.sent[1]).toEqual({ type: 'hear', utterance: UTTERANCE });
    const question = questionAbout('depth two four', 'depth three two');
    const [one, other] = [ask(question), ask(question)];
    const ids = worker.sent.flatMap((message) => (message.type === 'ask' ? [message.id] : []));
    expect(worker.sent.at(-1)).toMatchObject({ type: 'ask', question });
    const opinion = { text: [{ words: 'depth two four', distance: 0 }], head: [] };
    worker.tell({ type: 'answer', id: ids[1] ?? 0, opinion });
    worker.tell({ type: 'answer', id: ids[0] ?? 0, opinion: NO_TEXT });
    expect([await one, await other]).toEqual([NO_TEXT, opinion]);
  });

  it('[VOI106] tells what fails in it, whatever kind of failure, and ends with its owner', async () => {
    const { worker, failures, listener } = await start();
    worker.tell({ type: 'failed', detail: 'no numbers' });
    worker.onerror?.({ message: 'broken' } as ErrorEvent);
    expect(failures).toEqual(['no numbers', 'broken']);
    await listener.close();
    expect(worker.isTerminated).toBe(true);
  });
});
