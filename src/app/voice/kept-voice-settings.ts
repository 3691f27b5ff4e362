/** The theatre's voice settings: kept on this machine, the same in every window of it. */
import { canBeTalkKey, VOLUMES } from '../../domain';
import type { Fault, VoiceSettings } from '../../domain';
import type { Settings } from '../../record';
import { DEFAULT_ADDRESS_PHRASE, listOfferedAddresses } from '../../voice';
import { KeptRecord } from '../keeping/kept-record';

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

  readonly #kept: KeptRecord;

  constructor(
    kept: Settings,
    private readonly channel: Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>,
  ) {
    this.#kept = new KeptRecord(kept, KEY, 'voice settings');
    channel.addEventListener('message', ({ data }: MessageEvent<Partial<VoiceSettings>>) => {
      this.#kept.take(data);
      this.#show();
    });
  }

  /** Reads what this machine keeps; the defaults stand where that fails. Fault: `settings-not-read`. */
  async load(): Promise<Fault | null> {
    const unread = await this.#kept.load();
    this.#show();
    return unread;
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
    // Only what changes: another window may know what this one could not read.
    this.channel.postMessage(change);
    const keeping = this.#kept.change(change);
    this.#show();
    const unkept = await keeping;
    this.#show();
    return unkept;
  }

  #show(): void {
    this.#current = readVoiceSettings(this.#kept.values);
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
