/**
 * The ear as every window shows it: one window listens, the others see how it hears
 * and can switch it off. A window that falls silent is no longer believed.
 */
import type { Clock } from '../../domain';
import type { EarStatus } from '../../ui';

/** For how long is another window believed, in milliseconds? It tells four times a second while it listens. */
const BELIEVED_MS = 5_000;

type Message =
  | { readonly type: 'status'; readonly status: EarStatus }
  | { readonly type: 'stop' }
  /** A window that was just opened wants to know. */
  | { readonly type: 'ask' };

/** The ear of this window. */
export interface OwnEar {
  readonly status: EarStatus;
  onStatus(callback: () => void): () => void;
  stopListening(): void;
}

export class SharedEar {
  #other: { readonly status: EarStatus; readonly atMs: number } | null = null;
  readonly #watchers = new Set<() => void>();

  constructor(
    private readonly own: OwnEar,
    private readonly channel: Pick<BroadcastChannel, 'postMessage' | 'addEventListener'>,
    private readonly clock: Clock,
  ) {
    own.onStatus(() => {
      this.channel.postMessage({ type: 'status', status: own.status } satisfies Message);
      this.#tell();
    });
    channel.addEventListener('message', ({ data }: MessageEvent<Message>) => {
      if (data.type === 'stop') return own.stopListening();
      if (data.type === 'ask') return this.#answer();
      this.#other = { status: data.status, atMs: clock.monoMs() };
      this.#tell();
    });
    channel.postMessage({ type: 'ask' } satisfies Message);
  }

  /** How the wall hears, in whichever window. */
  get status(): EarStatus {
    const other = this.#other;
    if (this.own.status.state !== 'off' || !other) return this.own.status;
    // A lost microphone tells nothing while it is lost: that window is believed until it says otherwise.
    const isFresh = other.status.reading === null || this.#ageMs(other.atMs) < BELIEVED_MS;
    return isFresh ? other.status : this.own.status;
  }

  onStatus(callback: () => void): () => void {
    this.#watchers.add(callback);
    return () => this.#watchers.delete(callback);
  }

  /** Switches the ear off, wherever it is on. */
  stop(): void {
    if (this.own.status.state === 'off') this.channel.postMessage({ type: 'stop' });
    else this.own.stopListening();
  }

  /** The window closes: nobody may go on believing it. */
  leave(): void {
    const status: EarStatus = { ...this.own.status, state: 'off', fault: null, reading: null };
    this.channel.postMessage({ type: 'status', status } satisfies Message);
  }

  /** Only a window that listens, or would if it could, has something to say. */
  #answer(): void {
    const { status } = this.own;
    if (status.state !== 'off')
      this.channel.postMessage({ type: 'status', status } satisfies Message);
  }

  #ageMs(atMs: number): number {
    return this.clock.monoMs() - atMs;
  }

  #tell(): void {
    for (const watcher of this.#watchers) watcher();
  }
}
