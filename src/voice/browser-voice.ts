/**
 * Puts ear and announcer together from the browser's real parts. The only file of
 * this folder that names browser globals; it is never run in Node.
 */
import type { Scheduler } from '../domain';
import { Announcer } from './speaking/announcer';
import type { AnnouncerEvents } from './speaking/announcer';
import type { RecogniserPlatform } from './ear/browser-recogniser';
import { ClipSpeech } from './speaking/clip-speech';
import { listClipUrls, rehearsalClipUrl } from './speaking/clips';
import { Ear } from './ear/ear';
import { Earcons } from './speaking/earcons';
import type { EarEvents } from './ear/ear';
import { SAMPLE_RATE_HZ } from './hearing/listener';
import { BrowserMicrophone } from './ear/microphone';
import { PlatformSpeech } from './speaking/platform-speech';
import { LOUDEST_GAIN_DB } from './speaking/room-volume';
import type { RoomVolume } from './speaking/room-volume';
import { SoundPlayer } from './speaking/sound-player';
import { ThirdOpinion } from './decision/third-opinion';
import { WorkerHearing } from './hearing/worker-listener';
import type { WorkerLike } from './hearing/worker-listener';

/** The ear of a browser window. `siteBase` is the absolute URL below which `voice/model/` lies. */
export function createBrowserEar(
  siteBase: string,
  scheduler: Scheduler,
  wantsThird: () => boolean,
  events: EarEvents,
): Ear {
  const createWorker = (): WorkerLike =>
    new Worker(new URL('./hearing/listener.worker.ts', import.meta.url), { type: 'module' });
  const microphone = createBrowserMicrophone();
  const host = new WorkerHearing(
    createWorker,
    new URL('voice/model/', siteBase).href,
    new URL('model/', siteBase).href,
  );
  const third = new ThirdOpinion(browserRecogniser(), scheduler, wantsThird, (fault) => {
    events.onFault(fault);
  });
  return new Ear({ host, microphone, scheduler, third, pace: createPace() }, events);
}

/** The microphone of this machine. */
export function createBrowserMicrophone(): BrowserMicrophone {
  return new BrowserMicrophone({
    getUserMedia: async (constraints) => navigator.mediaDevices.getUserMedia(constraints),
    createContext: (options) => new AudioContext(options),
    captureUrl: async () => (await import('./ear/capture.worklet.ts?worker&url')).default,
    wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
    watchGestures: (callback) => watchEvents(window, ['pointerdown', 'keydown'], callback),
    listDevices: () => navigator.mediaDevices.enumerateDevices(),
    watchDevices,
    watchPermission,
  });
}

/** What this browser has of the Web Speech API; some have it under an older name. */
export function browserRecogniser(): RecogniserPlatform {
  const here = globalThis as Partial<{
    SpeechRecognition: RecogniserPlatform['Recognition'];
    webkitSpeechRecognition: RecogniserPlatform['Recognition'];
    SpeechRecognitionPhrase: RecogniserPlatform['Phrase'];
  }>;
  return {
    Recognition: here.SpeechRecognition ?? here.webkitSpeechRecognition,
    Phrase: here.SpeechRecognitionPhrase,
  };
}

/** The voice of a browser window: clips first, then a local voice where there is one. */
export function createBrowserAnnouncer(events: AnnouncerEvents, volume: RoomVolume): Announcer {
  const context = new AudioContext();
  const player = new SoundPlayer({
    context,
    isAllowedToPlay: () => context.state === 'running' || navigator.userActivation.hasBeenActive,
    gainDb: () => volume.gainDb,
  });
  const clips = new ClipSpeech(listClipUrls(), { player, fetchBytes });
  const scheduler: Scheduler = {
    after: (delayMs, callback) => {
      const timer = setTimeout(callback, delayMs);
      return () => {
        clearTimeout(timer);
      };
    },
  };
  const local =
    'speechSynthesis' in window
      ? [
          new PlatformSpeech({
            synthesis: window.speechSynthesis,
            scheduler,
            createUtterance: (text) => new SpeechSynthesisUtterance(text),
            volume: () => Math.min(1, 10 ** ((volume.gainDb - LOUDEST_GAIN_DB) / 20)),
          }),
        ]
      : [];
  const earcons = new Earcons(player);
  return new Announcer({ outputs: [clips, ...local], earcons, scheduler }, events);
}

/** Plays recorded sound aloud (16 kHz mono), so that people hear what the ear hears. */
export async function playAloud(pcm: Float32Array): Promise<void> {
  const context = new AudioContext();
  const buffer = context.createBuffer(1, pcm.length, SAMPLE_RATE_HZ);
  buffer.copyToChannel(pcm.slice(), 0);
  const node = context.createBufferSource();
  node.buffer = buffer;
  node.connect(context.destination);
  await new Promise<void>((resolve) => {
    node.onended = () => resolve();
    node.start();
  });
  await context.close();
}

/** Reads a rehearsal clip that was built into the site. */
export async function readBundledClip(file: string): Promise<Uint8Array> {
  const url = rehearsalClipUrl(file);
  if (url === undefined) throw new Error(`"${file}" is not part of this build`);
  return new Uint8Array(await fetchBytes(url));
}

/** How often are devices looked for, in milliseconds? A window behind another one is not told of them. */
const LOOK_MS = 2_000;

function watchDevices(callback: () => void): () => void {
  const stopEvents = watchEvents(navigator.mediaDevices, ['devicechange'], callback);
  const timer = setInterval(callback, LOOK_MS);
  return () => {
    stopEvents();
    clearInterval(timer);
  };
}

function watchPermission(onAllowed: () => void): () => void {
  let stop: (() => void) | null = () => undefined;
  const permissions = navigator.permissions as Permissions | undefined;
  void permissions?.query({ name: 'microphone' }).then(
    (status) => {
      stop &&= watchEvents(status, ['change'], () => {
        if (status.state === 'granted') onAllowed();
      });
    },
    // A browser that does not tell: a person presses Listen.
    () => undefined,
  );
  return () => {
    stop?.();
    stop = null;
  };
}

function watchEvents(target: EventTarget, names: readonly string[], callback: () => void) {
  for (const name of names) target.addEventListener(name, callback);
  return () => {
    for (const name of names) target.removeEventListener(name, callback);
  };
}

/** Clips are heard at the speed of speech: waits until that much of the clip has passed. */
function createPace(): (elapsedMs: number) => Promise<void> {
  let startMs = 0;
  return async (elapsedMs) => {
    if (elapsedMs === 0) startMs = performance.now();
    const waitMs = startMs + elapsedMs - performance.now();
    if (waitMs > 0) await new Promise((resolve) => setTimeout(resolve, waitMs));
  };
}

/** The bytes behind an address of this site. Rejects on anything but success. */
async function fetchBytes(url: string): Promise<ArrayBuffer> {
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url}: ${response.status}`);
  return response.arrayBuffer();
}
