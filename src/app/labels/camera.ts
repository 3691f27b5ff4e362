/**
 * The camera of this machine as a label reader. Pictures go to a worker one at a time
 * and nowhere else; none is kept. A text is passed on once it was read twice alike.
 */
import { fault } from '../../domain';
import type { Fault } from '../../domain';
import type { CameraReading } from './camera.worker';
import type { ReaderName } from './label-reader';

/** How often must the same text be read before it counts? Twice rules out most misreadings of a blurred symbol. */
const ALIKE_NEEDED = 2;
/** A text that was passed on is not passed on again for this long, in milliseconds. */
const REST_MS = 3_000;
/** Wide enough for a small symbol, small enough to decode several times a second. */
const PICTURE_WIDTH = 960;

export interface CameraPorts {
  readonly onText: (text: string) => void;
  readonly onFault: (fault: Fault) => void;
  /** Told with each picture who read it. */
  readonly onReader: (reader: ReaderName) => void;
}

/** Shows the camera in a video element and reads labels; the function that comes back ends it. */
export function startCamera(video: HTMLVideoElement, ports: CameraPorts): () => void {
  const worker = new Worker(new URL('./camera.worker.ts', import.meta.url), { type: 'module' });
  const canvas = new OffscreenCanvas(PICTURE_WIDTH, PICTURE_WIDTH);
  const pen = canvas.getContext('2d', { willReadFrequently: true });
  const seen = new SeenTexts(() => performance.now());
  let stream: MediaStream | null = null;
  let isOver = false;
  const stop = () => {
    isOver = true;
    worker.terminate();
    for (const track of stream?.getTracks() ?? []) track.stop();
    video.srcObject = null;
  };
  const fail = (detail: string) => {
    stop();
    ports.onFault(fault('camera-unavailable', { detail }));
  };
  const next = () => {
    if (isOver) return;
    requestAnimationFrame(() => {
      const { videoWidth: width, videoHeight: height } = video;
      if (isOver || !pen) return;
      if (width === 0) return next();
      const scale = Math.min(1, PICTURE_WIDTH / width);
      [canvas.width, canvas.height] = [Math.round(width * scale), Math.round(height * scale)];
      pen.drawImage(video, 0, 0, canvas.width, canvas.height);
      worker.postMessage(pen.getImageData(0, 0, canvas.width, canvas.height));
    });
  };
  worker.addEventListener('message', ({ data }: MessageEvent<CameraReading>) => {
    if (isOver) return;
    if (data.problem !== null) return fail(data.problem);
    ports.onReader(data.reader);
    video.dataset['decodeMs'] = data.decodeMs.toFixed(1);
    for (const text of data.texts) if (seen.isReady(text)) ports.onText(text);
    next();
  });
  worker.addEventListener('error', ({ message }) => {
    fail(message);
  });
  const open = async () => {
    const constraints = { video: { facingMode: 'environment', width: { ideal: 1280 } } };
    const opened = await navigator.mediaDevices.getUserMedia(constraints);
    if (isOver) {
      for (const track of opened.getTracks()) track.stop();
      return;
    }
    stream = opened;
    video.srcObject = opened;
    await video.play();
    next();
  };
  open().catch((cause: unknown) => {
    if (!isOver) fail(String(cause));
  });
  return stop;
}

/** Which texts were read how often of late. */
export class SeenTexts {
  readonly #seen = new Map<string, { times: number; passedAt: number | null }>();

  constructor(private readonly nowMs: () => number) {}

  /** Whether this reading makes the text count. */
  isReady(text: string): boolean {
    const now = this.nowMs();
    const known = this.#seen.get(text);
    if (known?.passedAt !== null && known !== undefined) {
      // In front of the camera all the while: it has been taken.
      const isResting = now - known.passedAt < REST_MS;
      this.#seen.set(text, {
        times: isResting ? known.times : 1,
        passedAt: isResting ? now : null,
      });
      return false;
    }
    const times = (known?.times ?? 0) + 1;
    const isReady = times >= ALIKE_NEEDED;
    this.#seen.set(text, { times, passedAt: isReady ? now : null });
    return isReady;
  }
}
