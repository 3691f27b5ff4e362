/**
 * The worker of the text listener, started by the listener's: it hears an utterance while
 * grammar and network still work on it, and is asked about the phrases that they leave. A
 * failure is told whole, cut where it is passed on, and ends the use of both workers.
 */
import { createModelReader } from '../models/model-reader';
import { TextListener } from './text-listener';
import type { PreparedText } from './text-listener';
import type { FromTextWorker, ToTextWorker } from './text-worker-messages';

let listener: TextListener | null = null;
let prepared: Promise<PreparedText | null> = Promise.resolve(null);

function tell(message: FromTextWorker): void {
  self.postMessage(message);
}

async function obey(message: ToTextWorker): Promise<void> {
  switch (message.type) {
    case 'start':
      listener = await TextListener.create(createModelReader(message.networkBase));
      return tell({ type: 'ready' });
    case 'hear':
      prepared = listener?.prepare(message.utterance) ?? prepared;
      await prepared;
      return;
    case 'ask': {
      const { id, question } = message;
      const opinion = await listener?.weigh(await prepared, question);
      if (opinion) tell({ type: 'answer', id, opinion });
    }
  }
}

self.onmessage = ({ data }: MessageEvent<ToTextWorker>) => {
  obey(data).catch((cause: unknown) => {
    tell({ type: 'failed', detail: String(cause) });
  });
};
