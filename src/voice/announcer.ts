/**
 * What the wall says aloud, in order of weight. Nothing stale is spoken: a newer
 * announcement of a kind replaces one that waits, and one of at least the same
 * weight cuts the one under way at its next segment. While it speaks the ear is
 * told, so that the wall does not hear itself.
 */
import { ANNOUNCEMENT_PRIORITIES, fault } from '../domain';
import type { Announcement, AnnouncementPriority, Fault } from '../domain';

/** An announcement as it waits here: it can become stale before its turn. */
export interface QueuedAnnouncement extends Announcement {
  /** Asked before each segment; false drops the rest. */
  readonly isStillWanted?: () => boolean;
}

/** One way of speaking. */
export interface SpeechOutput {
  /** Speaks to the end, or until cancelled; false where it can't say this. */
  speak(segment: string): Promise<boolean>;
  cancel(): void;
}

export interface AnnouncerEvents {
  onSpeaking(isSpeaking: boolean): void;
  /** Nothing could say this segment; the screen still shows it. */
  onSilent(fault: Fault): void;
}

export class Announcer {
  readonly #outputs: readonly SpeechOutput[];
  readonly #events: AnnouncerEvents;
  readonly #waiting = new Map<AnnouncementPriority, QueuedAnnouncement>();
  #isMuted = false;
  #running: Promise<void> | null = null;
  /** Changes when what is being spoken must stop at once. */
  #turn = 0;

  /** `outputs` are tried in order for each segment. */
  constructor(outputs: readonly SpeechOutput[], events: AnnouncerEvents) {
    this.#outputs = outputs;
    this.#events = events;
  }

  get isMuted(): boolean {
    return this.#isMuted;
  }

  /** Queues an announcement; dropped while muted. Resolves when the wall is silent again. */
  announce(announcement: QueuedAnnouncement): Promise<void> {
    if (this.#isMuted) return Promise.resolve();
    this.#waiting.set(announcement.priority, announcement);
    this.#running ??= this.#speakAll();
    return this.#running;
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
    this.#turn += 1;
    this.#waiting.clear();
    for (const output of this.#outputs) output.cancel();
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
    const kind = ANNOUNCEMENT_PRIORITIES.find((candidate) => this.#waiting.has(candidate));
    const next = kind && this.#waiting.get(kind);
    if (kind) this.#waiting.delete(kind);
    return next;
  }

  async #speakOne({ priority, segments, isStillWanted }: QueuedAnnouncement): Promise<void> {
    const turn = this.#turn;
    for (const segment of segments) {
      const isCut = turn !== this.#turn || this.#isOutweighed(priority);
      if (isCut || isStillWanted?.() === false) return;
      await this.#speakSegment(segment, turn);
    }
  }

  async #speakSegment(segment: string, turn: number): Promise<void> {
    let detail = 'no clip, no voice';
    for (const output of this.#outputs) {
      if (turn !== this.#turn) return;
      try {
        if (await output.speak(segment)) return;
      } catch (cause) {
        detail = String(cause);
      }
    }
    if (turn === this.#turn) {
      this.#events.onSilent(fault('announcer-silent', { text: segment, detail }));
    }
  }

  #isOutweighed(kind: AnnouncementPriority): boolean {
    const weight = ANNOUNCEMENT_PRIORITIES.indexOf(kind);
    return ANNOUNCEMENT_PRIORITIES.slice(0, weight + 1).some((other) => this.#waiting.has(other));
  }
}
