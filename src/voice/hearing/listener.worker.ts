/**
 * The worker that hears: voice activity and listener off the main thread. Every
 * failure is told to the other side and ends this worker's usefulness; the other
 * side starts a new one.
 */
import { faultToDeveloperText } from '../../domain';
import { Hearing } from './hearing';
import { languageOf } from '../languages/languages';
import { createModelReader } from '../models/model-reader';
import { AllListeners } from '../decision/all-listeners';
import { TextWorkerListener } from '../text/text-worker-listener';
import type { TextWorkerLike } from '../text/text-worker-listener';
import type { FromWorker, StartMessage, ToWorker } from './worker-messages';

/** How much of an error's text is passed on? The recogniser's own errors quote its whole source. */
const LONGEST_DETAIL = 200;

let hearing: Hearing | null = null;

function tell(message: FromWorker): void {
  self.postMessage(message);
}

function fail(cause: unknown): void {
  tell({ type: 'failed', detail: String(cause).slice(0, LONGEST_DETAIL) });
}

/** It ends with this one. */
function createTextWorker(): TextWorkerLike {
  return new Worker(new URL('../text/text.worker.ts', import.meta.url), { type: 'module' });
}

async function start({ modelBase, networkBase, language }: StartMessage): Promise<void> {
  const nowMs = (): number => performance.now();
  const read = createModelReader(networkBase);
  const spoken = languageOf(language);
  if (!spoken.ok) return fail(faultToDeveloperText(spoken.error));
  const createText = () => TextWorkerListener.start(createTextWorker(), networkBase, fail);
  const listener = await AllListeners.create({ modelBase }, read, spoken.value, nowMs, createText);
  hearing = new Hearing(listener, {
    onPhrase: (heard) => tell({ type: 'phrase', heard }),
    onHearing: (isHearing) => tell({ type: 'hearing', isHearing }),
    onLevel: (levelDb, reading) => tell({ type: 'level', levelDb, reading }),
    onLearning: (learning) => tell({ type: 'learning', learning }),
  });
  tell({ type: 'ready' });
}

async function obey(message: ToWorker): Promise<void> {
  switch (message.type) {
    case 'start':
      return start(message);
    case 'cards':
      return hearing?.setCards(message.cards);
    case 'vocabulary': {
      const faults = (await hearing?.setVocabulary(message.vocabulary)) ?? [];
      return tell({ type: 'done', id: message.id, faults });
    }
    case 'gate':
      return hearing?.gate(message.isSpeaking, message.speech);
    case 'sound':
      await hearing?.push(message.pcm);
      return tell({ type: 'done', id: message.id, faults: [] });
    case 'port':
      message.port.onmessage = ({ data }: MessageEvent<Float32Array>) => {
        hearing?.push(data).catch(fail);
      };
  }
}

// Examples from voice cards are made beside the requests; their failure is a failure too.
self.onunhandledrejection = ({ reason }) => {
  fail(reason);
};
self.onmessage = ({ data }: MessageEvent<ToWorker>) => {
  obey(data).catch(fail);
};
