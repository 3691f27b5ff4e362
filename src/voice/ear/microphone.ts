/**
 * The microphone as a source of 16 kHz mono sound that flows from the audio thread
 * to the listener's worker without touching the main thread. Missing, refused, held by
 * another program, lost and silent are told apart. The browser's globals are passed in.
 */
import { err, fault, ok } from '../../domain';
import type { Fault, Result } from '../../domain';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import { watchFlow } from './microphone-flow';
import type { WatchGestures } from './microphone-flow';

/** A microphone that is switched on. */
export interface OpenMicrophone {
  /** A new port whose messages are pieces of sound; an earlier port falls silent. */
  connect(): MessagePort;
  /** Whether the browser says that it takes the wall's own voice out of the sound. */
  readonly isEchoCancelled: boolean;
  /** The same sound for a recogniser of the browser. */
  readonly track: MediaStreamTrack;
  close(): void;
}

export interface MicrophoneEvents {
  /** It went away by itself; called once. */
  onLost(fault: Fault): void;
  /** It is open and gives no sound, with the reason; null when sound flows again. */
  onPaused(why: Fault | null): void;
}

export interface Microphone {
  /** Asks for it. */
  open(events: MicrophoneEvents): Promise<Result<OpenMicrophone, Fault>>;
  /** Calls back when the machine has a microphone (again), once; returns the function that ends the wait. */
  whenPresent(callback: () => void): () => void;
  /** Calls back when the person allowed it after a refusal, where the browser tells; returns the function that ends the wait. */
  whenAllowed(callback: () => void): () => void;
}

/** What is needed from the browser. */
export interface AudioPlatform {
  getUserMedia(constraints: MediaStreamConstraints): Promise<MediaStream>;
  createContext(options: AudioContextOptions): AudioContext;
  /** Address of the compiled audio thread's module. */
  captureUrl(): Promise<string>;
  wait(ms: number): Promise<void>;
  readonly watchGestures: WatchGestures;
  listDevices(): Promise<readonly MediaDeviceInfo[]>;
  /** Calls back when devices came or went; returns the function that ends it. */
  watchDevices(callback: () => void): () => void;
  /** Calls back when the microphone is allowed from now on; returns the function that ends it. */
  watchPermission(callback: () => void): () => void;
}

/**
 * Echo and noise are dealt with by the browser. Its gain is off: it follows noise as
 * well as people, and the room's level is measured here (auto-gain.ts has our own).
 */
const CONSTRAINTS: MediaStreamConstraints = {
  audio: {
    echoCancellation: true,
    // The listeners know noise; what a suppressor leaves of speech and of noise they don't (docs/voice.md).
    noiseSuppression: false,
    autoGainControl: false,
    channelCount: 1,
  },
};

/** How long may a browser take to let the sound flow, in milliseconds? */
const RESUME_MS = 500;

/** What the browser's errors mean; the rest mean "not there" (Media Capture and Streams, W3C). */
const MEANINGS: Readonly<Record<string, 'microphone-refused' | 'microphone-busy'>> = {
  NotAllowedError: 'microphone-refused',
  SecurityError: 'microphone-refused',
  NotReadableError: 'microphone-busy',
};

export class BrowserMicrophone implements Microphone {
  readonly #platform: AudioPlatform;

  constructor(platform: AudioPlatform) {
    this.#platform = platform;
  }

  async open(events: MicrophoneEvents): Promise<Result<OpenMicrophone, Fault>> {
    let stream: MediaStream;
    try {
      stream = await this.#platform.getUserMedia(CONSTRAINTS);
    } catch (cause) {
      return err(toMicrophoneFault(cause));
    }
    try {
      return ok(await this.#wire(stream, events));
    } catch (cause) {
      stopTracks(stream);
      return err(fault('microphone-lost', { detail: String(cause) }));
    }
  }

  whenPresent(callback: () => void): () => void {
    const { listDevices, watchDevices } = this.#platform;
    let isWaiting = true;
    const stopWatching = watchDevices(() => {
      void listDevices().then((devices) => {
        // Several looks may be under way at once.
        if (!isWaiting || !devices.some(({ kind }) => kind === 'audioinput')) return;
        stop();
        callback();
      });
    });
    const stop = (): void => {
      isWaiting = false;
      stopWatching();
    };
    return stop;
  }

  whenAllowed(callback: () => void): () => void {
    const stop = this.#platform.watchPermission(() => {
      stop();
      callback();
    });
    return stop;
  }

  async #wire(stream: MediaStream, events: MicrophoneEvents): Promise<OpenMicrophone> {
    const { context, source } = this.#connectSource(stream);
    await context.audioWorklet.addModule(await this.#platform.captureUrl());
    const node = new AudioWorkletNode(context, 'capture', { numberOfOutputs: 0, channelCount: 1 });
    source.connect(node);
    // A browser that wants a press first never answers: then the flow is told as held back.
    await Promise.race([context.resume(), this.#platform.wait(RESUME_MS)]);
    const [track] = stream.getAudioTracks();
    if (!track) throw new Error('A stream without sound');
    const stopWatching = watchFlow(track, context, this.#platform.watchGestures, (why) => {
      events.onPaused(why);
    });
    const close = (): void => {
      stopWatching();
      stopTracks(stream);
      if (context.state !== 'closed') void context.close();
    };
    track.addEventListener('ended', () => {
      close();
      events.onLost(fault('microphone-lost', { detail: track.label }));
    });
    const connect = (): MessagePort => {
      const { port1, port2 } = new MessageChannel();
      node.port.postMessage(port1, [port1]);
      return port2;
    };
    return {
      connect,
      close,
      track,
      isEchoCancelled: track.getSettings().echoCancellation === true,
    };
  }

  /** Some browsers refuse a context whose rate differs from the microphone's; then its own rate is taken. */
  #connectSource(stream: MediaStream): { context: AudioContext; source: AudioNode } {
    const wanted = this.#platform.createContext({ sampleRate: SAMPLE_RATE_HZ });
    try {
      return { context: wanted, source: wanted.createMediaStreamSource(stream) };
    } catch (cause) {
      if (!(cause instanceof DOMException)) throw cause;
      void wanted.close();
      const context = this.#platform.createContext({});
      return { context, source: context.createMediaStreamSource(stream) };
    }
  }
}

function toMicrophoneFault(cause: unknown): Fault {
  const name = cause instanceof Error ? cause.name : '';
  return fault(MEANINGS[name] ?? 'microphone-missing', { detail: String(cause) });
}

function stopTracks(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}
