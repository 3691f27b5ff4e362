/** The worker that compares the recordings of a card: some seconds of work off the main thread. */
import { createModelReader } from '../models/model-reader';
import { PhraseNetwork } from '../network/phrase-network';
import { tellApart } from './tell-apart';
import type { FromComparer, ToComparer } from './tell-apart-messages';

async function compare({ networkBase, takes }: ToComparer): Promise<FromComparer> {
  const model = await PhraseNetwork.create(createModelReader(networkBase));
  return { rows: await tellApart((pcm) => model.traitsOf(pcm), takes) };
}

self.onmessage = ({ data }: MessageEvent<ToComparer>) => {
  compare(data).then(
    (answer) => self.postMessage(answer),
    (cause: unknown) => self.postMessage({ detail: String(cause).slice(0, 200) }),
  );
};
