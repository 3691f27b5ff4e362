/**
 * Ear and voice of this window, joined to the case: heard phrases become orders, the
 * vocabulary follows the case, announcements are spoken, and while the wall speaks
 * it does not listen. Rehearsals play recordings through the same ear.
 */
import type { Clock, Fault, HeardPhrase, Scheduler } from '../../domain';
import { fault } from '../../domain';
import { isStillTrue, REVERSE_SHOULDER_REHEARSAL, runRehearsal } from '../../session';
import type { RehearsalStage, SharedHost } from '../../session';
import type { EarStatus, RehearsalStatus } from '../../ui';
import {
  createBrowserAnnouncer,
  createBrowserEar,
  playAloud,
  PushToTalk,
  readBundledClip,
  RehearsalSpeaker,
  RoomVolume,
} from '../../voice';
import type { Announcer, Ear } from '../../voice';
import type { CardShelf } from './card-shelf';
import { CaseVoicesKeeper } from './case-voices';
import type { KeptVoiceSettings } from './kept-voice-settings';
import type { VoiceTurn } from './voice-turn';

const OFF: EarStatus = {
  state: 'off',
  fault: null,
  levelDb: null,
  reading: null,
  isGated: false,
  isShut: false,
};
/** In these states there is nothing to measure. */
const HEARS_NOTHING: ReadonlySet<EarStatus['state']> = new Set(['off', 'lost', 'failed']);
const NO_REHEARSAL: RehearsalStatus = {
  isRunning: false,
  saying: null,
  done: 0,
  total: 0,
  fault: null,
};

export class Sound {
  readonly #ear: Ear;
  readonly #announcer: Announcer;
  readonly #voices: CaseVoicesKeeper;
  readonly #volume = new RoomVolume();
  readonly #talk: PushToTalk;
  readonly #earWatchers = new Set<() => void>();
  readonly #rehearsalWatchers = new Set<() => void>();
  readonly #speaker = new RehearsalSpeaker(readBundledClip);
  #status: EarStatus = OFF;
  #rehearsal: RehearsalStatus = NO_REHEARSAL;
  /** What the wall is saying, or is about to. */
  #saying: readonly string[] = [];
  #isStopped = false;
  #whenSilent: (() => void)[] = [];
  #leaveCase: () => void = () => undefined;

  constructor(
    private readonly host: SharedHost,
    siteBase: string,
    scheduler: Scheduler,
    private readonly turn: VoiceTurn,
    settings: KeptVoiceSettings,
    cards: Pick<CardShelf, 'load'>,
    clock: Clock,
    private readonly onFault: (fault: Fault) => void,
  ) {
    this.#talk = new PushToTalk(
      scheduler,
      () => clock.monoMs(),
      () => {
        this.#tellVocabulary();
      },
    );
    const takeSettings = (): void => {
      this.#volume.base = settings.current.volume;
    };
    takeSettings();
    const wantsThird = (): boolean => settings.current.hasBrowserRecogniser;
    this.#ear = createBrowserEar(siteBase, scheduler, wantsThird, {
      onPhrase: (heard) => void this.#take(heard),
      onState: (state, why) => {
        this.#setStatus({
          state,
          fault: why ?? null,
          ...(HEARS_NOTHING.has(state) && { levelDb: null, reading: null }),
        });
      },
      onLevel: (levelDb, reading) => {
        this.#volume.hear(levelDb, this.#status.isGated);
        this.#setStatus({ levelDb, reading });
      },
      onLearning: (learning) => {
        this.#setStatus({ learning });
      },
      onFault,
    });
    this.#voices = new CaseVoicesKeeper(cards, this.#ear, onFault);
    settings.watch(() => {
      takeSettings();
      this.#ear.reviewThird();
    });
    this.#announcer = createBrowserAnnouncer(
      {
        onSpeaking: (isSpeaking) => {
          if (!isSpeaking) this.#saying = [];
          this.#ear.gate(isSpeaking, this.#saying);
          this.#setStatus({ isGated: isSpeaking });
          if (!isSpeaking) for (const tell of this.#whenSilent.splice(0)) tell();
        },
        onSilent: onFault,
      },
      this.#volume,
    );
    this.host.watch(() => {
      this.#joinCase();
    });
    this.#joinCase();
  }

  /** What was heard goes to the case; a phrase that never reached its record is shown here. */
  async #take(heard: HeardPhrase): Promise<void> {
    if (heard.words !== null) this.#talk.takeCommand();
    // Who speaks over the wall has heard enough of it.
    if (heard.words !== null && this.#status.isGated) this.#announcer.silence();
    const running = this.host.current;
    if (!running) return this.onFault(fault('case-unknown', { name: '' }));
    const { refusal } = await running.hear(heard);
    if (refusal?.code === 'window-unreachable') this.onFault(refusal);
  }

  get status(): EarStatus {
    return this.#status;
  }

  get rehearsal(): RehearsalStatus {
    return this.#rehearsal;
  }

  onStatus(callback: () => void): () => void {
    this.#earWatchers.add(callback);
    return () => this.#earWatchers.delete(callback);
  }

  onRehearsal(callback: () => void): () => void {
    this.#rehearsalWatchers.add(callback);
    return () => this.#rehearsalWatchers.delete(callback);
  }

  async listen(): Promise<void> {
    this.turn.take();
    await this.#tellVocabulary();
    await this.#ear.startListening();
  }

  /** Says something as loud as it is set now, also without a case. */
  sayExample(): void {
    this.#announcer.silence();
    const segments = ['Next', 'two', 'four'];
    void this.#announcer.announce({
      priority: 'answer',
      earcon: 'asks',
      segments,
      about: { kind: 'moment' },
    });
  }

  /** The talk key, or the pedal that sends it. */
  get talkKey(): { press(): void; release(): void } {
    return this.#talk;
  }

  /** What the ear may hear now; nothing where a key opens it and nobody presses. */
  #tellVocabulary(): Promise<void> {
    const vocabulary = this.host.current?.vocabulary;
    if (!vocabulary) return Promise.resolve();
    const isShut = vocabulary.addressPhrase === '' && !this.#talk.isOpen;
    this.#setStatus({ isShut });
    return this.#ear.setVocabulary({ ...vocabulary, isShut });
  }

  stopListening(): void {
    this.#ear.stop();
  }

  /** Speaks the demo case; the rehearsal case must be open. */
  async rehearse(): Promise<void> {
    const running = this.host.current;
    if (!running || this.#rehearsal.isRunning) return;
    this.#isStopped = false;
    this.turn.take();
    await this.#tellVocabulary();
    const lines = REVERSE_SHOULDER_REHEARSAL;
    this.#setRehearsal({
      isRunning: true,
      total: lines.length,
      done: 0,
      saying: null,
      fault: null,
    });
    const report = await runRehearsal(
      running,
      lines,
      this.#stage(),
      (line, done) => {
        this.#setRehearsal({ saying: line.words, done });
      },
      () => this.#isStopped || this.host.current !== running,
    );
    const gaveUp = report.stoppedAt !== null && !report.fault && !this.#isStopped;
    const why = gaveUp
      ? fault('rehearsal-misheard', { text: report.stoppedAt ?? '' })
      : report.fault;
    this.#ear.stop();
    // Nobody goes on with a rehearsal: said to its end it is closed, and can be looked back on.
    if (report.stoppedAt === null)
      await running.submit({ type: 'case.close', outcome: 'finished' }, 'wall');
    this.#setRehearsal({ isRunning: false, saying: null, done: report.spoken, fault: why });
    if (why) this.onFault(why);
  }

  stopRehearsal(): void {
    this.#isStopped = true;
  }

  #stage(): RehearsalStage {
    return {
      speak: async (line) => {
        const clip = await this.#speaker.say(line.words, line.who);
        if (!clip.ok) return clip;
        await Promise.all([playAloud(clip.value), this.#ear.hear(clip.value)]);
        return { ok: true, value: undefined };
      },
      silence: () =>
        this.#status.isGated
          ? new Promise((resolve) => {
              this.#whenSilent.push(resolve);
            })
          : Promise.resolve(),
      pause: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
    };
  }

  #joinCase(): void {
    this.#leaveCase();
    this.#voices.leave();
    const running = this.host.current;
    this.#announcer.silence();
    if (!running) return;
    void this.#tellVocabulary();
    this.#voices.follow(running);
    this.#leaveCase = running.subscribe(({ entries, announcements }) => {
      if (entries.length === 0) return;
      void this.#tellVocabulary();
      // Also what this window says after another one took the voice, and what was muted meanwhile.
      this.#announcer.review();
      if (!this.turn.isMine) return;
      const queued = announcements.map((one) => ({
        ...one,
        isStillWanted: () => this.turn.isMine && isStillTrue(one.about, running.view),
      }));
      if (queued.length === 0) return;
      this.#saying = [...this.#saying, ...queued.flatMap(({ segments }) => segments)];
      if (this.#status.isGated) this.#ear.gate(true, this.#saying);
      void this.#announcer.announce(...queued);
    });
  }

  #setStatus(change: Partial<EarStatus>): void {
    this.#status = { ...this.#status, ...change };
    for (const watcher of this.#earWatchers) watcher();
  }

  #setRehearsal(change: Partial<RehearsalStatus>): void {
    this.#rehearsal = { ...this.#rehearsal, ...change };
    for (const watcher of this.#rehearsalWatchers) watcher();
  }
}
