/** The worker that compares the recordings of a card: some seconds of work off the main thread. */
import { SpeechEmbedding } from './speech-embedding';
import { tellApart } from './tell-apart';
import type { FromComparer, ToComparer } from './tell-apart-messages';

async function compare({ embeddingBase, takes }: ToComparer): Promise<FromComparer> {
  const embedding = await SpeechEmbedding.create(async (name) => {
    const response = await fetch(new URL(name, embeddingBase));
    if (!response.ok) throw new Error(`${name}: ${response.status}`);
    return new Uint8Array(await response.arrayBuffer());
  });
  return { rows: await tellApart(embedding, takes) };
}

self.onmessage = ({ data }: MessageEvent<ToComparer>) => {
  compare(data).then(
    (answer) => self.postMessage(answer),
    (cause: unknown) => self.postMessage({ detail: String(cause).slice(0, 200) }),
  );
};
