/** The theatre's voice settings: kept on this machine, the same in every window of it. */
import { canBeTalkKey, VOLUMES } from '../domain';
import type { Fault, VoiceSettings } from '../domain';
import type { Settings } from '../record';
import { DEFAULT_ADDRESS_PHRASE, listOfferedAddresses } from '../voice';

const KEY = 'voice';

const DEFAULTS: VoiceSettings = {
  volume: 'normal',
  addressPhrase: DEFAULT_ADDRESS_PHRASE,
  talkKey: null,
  hasBrowserRecogniser: false,
};

export class KeptVoiceSettings {
  #current: VoiceSettings = DEFAULTS;
  readonly #watchers = new Set<() => void>();

  constructor(
    private readonly kept: Settings,
    private readonly channel: Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>,
  ) {
    channel.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      this.#take(data);
    });
  }

  /** Reads what this machine keeps; without a disk the defaults stand. */
  async load(): Promise<void> {
    const read = await this.kept.read(KEY);
    if (read.ok) this.#take(read.value);
  }

  get current(): VoiceSettings {
    return this.#current;
  }

  watch(watcher: () => void): () => void {
    this.#watchers.add(watcher);
    return () => this.#watchers.delete(watcher);
  }

  /** Takes effect at once; the fault says that it could not be kept. */
  async change(change: Partial<VoiceSettings>): Promise<Fault | null> {
    this.#take({ ...this.#current, ...change });
    this.channel.postMessage(this.#current);
    const written = await this.kept.write(KEY, { ...this.#current });
    return written.ok ? null : written.error;
  }

  #take(value: unknown): void {
    this.#current = readVoiceSettings(value);
    for (const watcher of this.#watchers) watcher();
  }
}

/** What can be used of a kept value; a phrase that is no longer offered gives way to the default. */
export function readVoiceSettings(value: unknown): VoiceSettings {
  if (typeof value !== 'object' || value === null) return DEFAULTS;
  const { volume, addressPhrase, talkKey, hasBrowserRecogniser } = value as Readonly<
    Record<string, unknown>
  >;
  const offered = listOfferedAddresses().find(({ address }) => address === addressPhrase);
  return {
    volume: VOLUMES.find((one) => one === volume) ?? DEFAULTS.volume,
    addressPhrase: offered?.address ?? DEFAULTS.addressPhrase,
    talkKey: typeof talkKey === 'string' && canBeTalkKey(talkKey) ? talkKey : null,
    hasBrowserRecogniser: hasBrowserRecogniser === true,
  };
}
