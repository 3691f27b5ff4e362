/** Hearing in this very thread: for Node, where nothing has to stay responsive. */
import { err, fault, ok } from '../../domain';
import type { Fault, Result, Vocabulary } from '../../domain';
import type { WallSpeech } from './barge-in';
import { Hearing } from './hearing';
import type { CaseVoices, HearingHost, HearingHostEvents } from './hearing-host';
import type { Listener } from './listener';

export class LocalHearing implements HearingHost {
  readonly #createListener: () => Promise<Listener>;
  #listener: Listener | null = null;
  #hearing: Hearing | null = null;

  /** `createListener` loads the listener when hearing starts. */
  constructor(createListener: () => Promise<Listener>) {
    this.#createListener = createListener;
  }

  async start(events: HearingHostEvents): Promise<Result<null, Fault>> {
    if (this.#hearing) return ok(null);
    try {
      this.#listener = await this.#createListener();
    } catch (cause) {
      return err(fault('listener-failed', { detail: String(cause).slice(0, 200) }));
    }
    this.#hearing = new Hearing(this.#listener, events);
    return ok(null);
  }

  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    return (await this.#hearing?.setVocabulary(vocabulary)) ?? [];
  }

  /** The language is that of the listener it was given. */
  async setVoices({ cards }: CaseVoices): Promise<void> {
    await this.#hearing?.setCards(cards);
  }

  gate(isSpeaking: boolean, speech?: WallSpeech): void {
    this.#hearing?.gate(isSpeaking, speech);
  }

  async push(pcm: Float32Array): Promise<void> {
    await this.#hearing?.push(pcm);
  }

  listenTo(port: MessagePort): void {
    port.onmessage = ({ data }: MessageEvent<Float32Array>) => void this.push(data);
  }

  /** In this thread nothing can hang by itself. */
  restart(): void {
    // Nothing to replace.
  }

  async close(): Promise<void> {
    this.#hearing?.close();
    await this.#listener?.close();
    this.#listener = null;
    this.#hearing = null;
  }
}
