/**
 * What the wall says aloud, in order of weight. What is weightier cuts what is under
 * way, which is said again afterwards; what has become untrue is cut and dropped; a
 * newer announcement about the same takes the older one's place. While it speaks the
 * ear is told, so that the wall does not hear itself.
 */
import { ANNOUNCEMENT_PRIORITIES, fault } from '../../domain';
import type { Announcement, Earcon, Fault, Scheduler } from '../../domain';

/** An announcement as it waits here: it can become untrue before its turn. */
export interface QueuedAnnouncement extends Announcement {
  /** Asked before each segment and at every review; false drops the rest. */
  readonly isStillWanted?: () => boolean;
}

/** One way of speaking. */
export interface SpeechOutput {
  /** Speaks to the end, or until cancelled; false where it can't say this. */
  speak(segment: string): Promise<boolean>;
  cancel(): void;
}

/** Plays the short sounds; false where the browser lets no sound out. */
export interface EarconOutput {
  play(earcon: Earcon): Promise<boolean>;
  cancel(): void;
}

export interface AnnouncerPorts {
  /** Tried in order for each segment. */
  readonly outputs: readonly SpeechOutput[];
  readonly earcons: EarconOutput;
  readonly scheduler: Scheduler;
}

export interface AnnouncerEvents {
  onSpeaking(isSpeaking: boolean): void;
  /** Nothing could say this segment; the screen still shows it. */
  onSilent(fault: Fault): void;
}

/**
 * How long may one segment take, in milliseconds? The longest text on the wall takes
 * nine seconds; a voice that never ends would keep the ear shut for good.
 */
const LONGEST_SEGMENT_MS = 15_000;

export class Announcer {
  readonly #ports: AnnouncerPorts;
  readonly #events: AnnouncerEvents;
  #waiting: readonly QueuedAnnouncement[] = [];
  #current: QueuedAnnouncement | null = null;
  #isMuted = false;
  #running: Promise<void> | null = null;
  /** Ends the segment under way. */
  #cutSegment: () => void = () => undefined;

  constructor(ports: AnnouncerPorts, events: AnnouncerEvents) {
    this.#ports = ports;
    this.#events = events;
  }

  /** Queues announcements; dropped while muted. Resolves when the wall is silent again. */
  announce(...announcements: readonly QueuedAnnouncement[]): Promise<void> {
    if (this.#isMuted) return Promise.resolve();
    for (const one of announcements) {
      const others = this.#waiting.filter((other) => !isAlike(other, one));
      this.#waiting = [...others, one].sort((a, b) => weightOf(a) - weightOf(b));
      if (this.#current && isAlike(this.#current, one)) this.#cut();
    }
    const [first] = this.#waiting;
    if (first && this.#current && weightOf(first) < weightOf(this.#current)) {
      // Cut short, not answered: it is still true, and said again from its beginning.
      const again = this.#current;
      this.#cut();
      this.#waiting = [...this.#waiting, again].sort((a, b) => weightOf(a) - weightOf(b));
    }
    this.#running ??= this.#speakAll();
    return this.#running;
  }

  /** Drops what has become untrue, also in the middle of a word. */
  review(): void {
    this.#waiting = this.#waiting.filter(isWanted);
    if (this.#current && !isWanted(this.#current)) this.#cut();
  }

  /** Silent from this moment on. */
  mute(): void {
    this.#isMuted = true;
    this.silence();
  }

  unmute(): void {
    this.#isMuted = false;
  }

  /** Drops what is being said and what waits. */
  silence(): void {
    this.#waiting = [];
    this.#cut();
  }

  #cut(): void {
    this.#current = null;
    this.#cutSegment();
    for (const output of [...this.#ports.outputs, this.#ports.earcons]) output.cancel();
  }

  async #speakAll(): Promise<void> {
    this.#events.onSpeaking(true);
    try {
      for (let next = this.#takeNext(); next; next = this.#takeNext()) await this.#speakOne(next);
    } finally {
      this.#running = null;
      this.#events.onSpeaking(false);
    }
  }

  #takeNext(): QueuedAnnouncement | undefined {
    const [next, ...others] = this.#waiting.filter(isWanted);
    this.#waiting = others;
    this.#current = next ?? null;
    return next;
  }

  async #speakOne(one: QueuedAnnouncement): Promise<void> {
    const { earcon, segments } = one;
    // A sound that can't be played is no loss that anybody has to hear of: the words follow.
    if (earcon) await this.#untilCut(this.#ports.earcons.play(earcon).catch(() => false));
    for (const segment of segments) {
      if (this.#current !== one || !isWanted(one)) return;
      await this.#speakSegment(segment, one);
    }
  }

  async #speakSegment(segment: string, one: QueuedAnnouncement): Promise<void> {
    let detail = 'no clip, no voice';
    for (const output of this.#ports.outputs) {
      try {
        const isSaid = await this.#untilCut(output.speak(segment));
        if (isSaid || this.#current !== one) return;
      } catch (cause) {
        output.cancel();
        detail = String(cause);
      }
    }
    if (this.#current === one)
      this.#events.onSilent(fault('announcer-silent', { text: segment, detail }));
  }

  /** Waits for a sound to end, for the cut, or for longer than anything takes. Rejects as the sound does. */
  async #untilCut(sound: Promise<boolean>): Promise<boolean> {
    let stopWaiting: () => void = () => undefined;
    const cut = new Promise<boolean>((resolve) => {
      this.#cutSegment = () => {
        resolve(true);
      };
    });
    const tooLong = new Promise<never>((_, reject) => {
      stopWaiting = this.#ports.scheduler.after(LONGEST_SEGMENT_MS, () => {
        reject(new Error(`no end after ${LONGEST_SEGMENT_MS} ms`));
      });
    });
    try {
      return await Promise.race([sound, cut, tooLong]);
    } finally {
      stopWaiting();
      this.#cutSegment = () => undefined;
    }
  }
}

function isWanted({ isStillWanted }: QueuedAnnouncement): boolean {
  return isStillWanted?.() ?? true;
}

function isAlike(a: Announcement, b: Announcement): boolean {
  return a.priority === b.priority && JSON.stringify(a.about) === JSON.stringify(b.about);
}

function weightOf({ priority }: Announcement): number {
  return ANNOUNCEMENT_PRIORITIES.indexOf(priority);
}
