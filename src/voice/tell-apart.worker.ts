/** The worker that compares the recordings of a card: some seconds of work off the main thread. */
import type { HearTraits } from './card-examples';
import { createModelReader } from './model-reader';
import { PhraseNetwork } from './phrase-network';
import { tellApart } from './tell-apart';
import type { FromComparer, ToComparer } from './tell-apart-messages';

async function compare({ embeddingBase, takes }: ToComparer): Promise<FromComparer> {
  const model = await PhraseNetwork.create(createModelReader(embeddingBase));
  const hear: HearTraits = async (pcm) => (await model.hear(pcm))?.traits ?? null;
  return { rows: await tellApart(hear, takes) };
}

self.onmessage = ({ data }: MessageEvent<ToComparer>) => {
  compare(data).then(
    (answer) => self.postMessage(answer),
    (cause: unknown) => self.postMessage({ detail: String(cause).slice(0, 200) }),
  );
};
