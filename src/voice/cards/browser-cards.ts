/** Recording and comparing for voice cards, from the browser's real parts; never run in Node. */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import { createBrowserMicrophone } from '../browser-voice';
import type { CardTake } from './card-voice';
import { TakeRecorder } from './take-recorder';
import type { TakeEvents } from './take-recorder';
import type { ToldApart } from './tell-apart';
import type { FromComparer, ToComparer } from './tell-apart-messages';

/** Opens the microphone and cuts recordings; gives what closes it. `onFault` gets null when sound flows again. */
export async function recordTakes(
  events: TakeEvents & { onFault(why: Fault | null): void },
): Promise<Result<() => void, Fault>> {
  const opened = await createBrowserMicrophone().open({
    onLost: (why) => events.onFault(why),
    onPaused: (why) => events.onFault(why),
  });
  if (!opened.ok) return opened;
  const recorder = new TakeRecorder(events);
  const port = opened.value.connect();
  port.onmessage = ({ data }: MessageEvent<Float32Array>) => recorder.push(data);
  return ok(() => {
    port.close();
    opened.value.close();
  });
}

/** How well texts are told apart. Fault: `voice-card-not-compared`. */
export function compareTakes(
  siteBase: string,
  takes: readonly CardTake[],
): Promise<Result<readonly ToldApart[], Fault>> {
  const worker = new Worker(new URL('./tell-apart.worker.ts', import.meta.url), { type: 'module' });
  return new Promise<Result<readonly ToldApart[], Fault>>((resolve) => {
    const fail = (detail: string): void =>
      resolve(err(fault('voice-card-not-compared', { detail })));
    worker.onmessage = ({ data }: MessageEvent<FromComparer>) =>
      'rows' in data ? resolve(ok(data.rows)) : fail(data.detail);
    worker.onerror = ({ message }) => fail(message);
    worker.onmessageerror = () => fail('the worker’s answer could not be taken apart');
    const networkBase = new URL('model/', siteBase).href;
    worker.postMessage({ networkBase, takes } satisfies ToComparer);
  }).finally(() => worker.terminate());
}
