/**
 * The microphone as a source of 16 kHz mono sound that flows from the audio thread
 * to the listener's worker without touching the main thread. Missing, refused and
 * lost are told apart. The browser's globals are passed in.
 */
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { SAMPLE_RATE_HZ } from './listener';

/** A microphone that is switched on. */
export interface OpenMicrophone {
  /** A new port whose messages are pieces of sound; an earlier port falls silent. */
  connect(): MessagePort;
  close(): void;
}

export interface Microphone {
  /** Asks for it; `onLost` is called once if it goes away by itself. */
  open(onLost: (fault: Fault) => void): Promise<Result<OpenMicrophone, Fault>>;
}

/** What is needed from the browser. */
export interface AudioPlatform {
  getUserMedia(constraints: MediaStreamConstraints): Promise<MediaStream>;
  createContext(options: AudioContextOptions): AudioContext;
  /** Address of the compiled audio thread's module. */
  captureUrl(): Promise<string>;
}

/** Echo and noise are dealt with by the browser; levels differ between people and rooms. */
const CONSTRAINTS: MediaStreamConstraints = {
  audio: { echoCancellation: true, noiseSuppression: true, autoGainControl: true, channelCount: 1 },
};

/** Which of the browser's errors mean "not allowed"? The rest mean "not there" (Media Capture and Streams, W3C). */
const REFUSALS = ['NotAllowedError', 'SecurityError'];

export class BrowserMicrophone implements Microphone {
  readonly #platform: AudioPlatform;

  constructor(platform: AudioPlatform) {
    this.#platform = platform;
  }

  async open(onLost: (fault: Fault) => void): Promise<Result<OpenMicrophone, Fault>> {
    let stream: MediaStream;
    try {
      stream = await this.#platform.getUserMedia(CONSTRAINTS);
    } catch (cause) {
      return err(toMicrophoneFault(cause));
    }
    try {
      return ok(await this.#wire(stream, onLost));
    } catch (cause) {
      stopTracks(stream);
      return err(fault('microphone-lost', { detail: String(cause) }));
    }
  }

  async #wire(stream: MediaStream, onLost: (fault: Fault) => void): Promise<OpenMicrophone> {
    const { context, source } = this.#connectSource(stream);
    await context.audioWorklet.addModule(await this.#platform.captureUrl());
    const node = new AudioWorkletNode(context, 'capture', { numberOfOutputs: 0, channelCount: 1 });
    source.connect(node);
    await context.resume();
    const close = (): void => {
      stopTracks(stream);
      void context.close();
    };
    for (const track of stream.getAudioTracks()) {
      track.addEventListener('ended', () => {
        close();
        onLost(fault('microphone-lost', { detail: track.label }));
      });
    }
    const connect = (): MessagePort => {
      const { port1, port2 } = new MessageChannel();
      node.port.postMessage(port1, [port1]);
      return port2;
    };
    return { connect, close };
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
  const code = REFUSALS.includes(name) ? 'microphone-refused' : 'microphone-missing';
  return fault(code, { detail: String(cause) });
}

function stopTracks(stream: MediaStream): void {
  for (const track of stream.getTracks()) track.stop();
}
