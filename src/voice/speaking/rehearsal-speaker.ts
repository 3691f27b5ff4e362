/** Gives the recorded sound of a spoken command, wherever its file has to be read from. */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import { toClipKey } from './clip-speech';
import { REHEARSAL_CLIPS } from './clips';
import type { RehearsalClip, Speaker } from './clips';
import { readWav } from '../ear/wav';

export class RehearsalSpeaker {
  readonly #readBytes: (file: string) => Promise<Uint8Array>;
  readonly #clips: readonly RehearsalClip[];

  /** `readBytes` takes a file name of src/voice/rehearsal-clips. */
  constructor(
    readBytes: (file: string) => Promise<Uint8Array>,
    clips: readonly RehearsalClip[] = REHEARSAL_CLIPS,
  ) {
    this.#readBytes = readBytes;
    this.#clips = clips;
  }

  /** Sound of a rehearsal's line as that speaker says it: 16 kHz mono. */
  async say(words: string, speaker: Speaker): Promise<Result<Float32Array, Fault>> {
    const key = toClipKey(words);
    const clip = this.#clips.find((one) => one.words === key && one.speaker === speaker);
    if (!clip) return err(fault('rehearsal-clip-missing', { text: words }));
    try {
      return ok(readWav(await this.#readBytes(clip.file)));
    } catch (cause) {
      return err(fault('rehearsal-clip-missing', { text: words, detail: String(cause) }));
    }
  }
}
