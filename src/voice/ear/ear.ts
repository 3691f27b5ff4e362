/**
 * The wall's ear: a source of sound joined to hearing, and what state that is in.
 * The microphone and recorded clips go the same way. It says what is wrong, listens
 * again by itself when the reason has gone, and can always be asked to.
 */
import { fault } from '../../domain';
import type {
  CardLearning,
  Fault,
  HeardPhrase,
  Scheduler,
  SoundReading,
  Vocabulary,
} from '../../domain';
import type { CaseVoices, HearingHost } from '../hearing/hearing-host';
import { LANGUAGES } from '../languages/languages';
import { SAMPLE_RATE_HZ } from '../hearing/listener';
import type { Microphone, OpenMicrophone } from './microphone';
import { SignOfLife } from './sign-of-life';
import { SpokenVocabulary } from '../languages/spoken-language';
import type { ThirdOpinion } from '../decision/third-opinion';

/** lost: no sound comes in; failed: nobody listens to it. */
export type EarState = 'off' | 'starting' | 'listening' | 'hearing' | 'lost' | 'failed';

export interface EarEvents {
  onPhrase(heard: HeardPhrase): void;
  onState(state: EarState, fault?: Fault): void;
  /** What the microphone gives, four times a second. */
  onLevel(levelDb: number, reading: SoundReading): void;
  /** How far the voice cards are learnt; until they are, it hears as without them. */
  onLearning?(learning: CardLearning): void;
  /** A word of the vocabulary that can't be heard; the rest can. */
  onFault(fault: Fault): void;
}

export interface EarPorts {
  readonly host: HearingHost;
  /** Null where only recorded sound is heard. */
  readonly microphone: Microphone | null;
  readonly scheduler: Scheduler;
  /** Left out where the browser's own recogniser has no say. */
  readonly third?: ThirdOpinion;
  /** Waits until `elapsedMs` of a clip would have been spoken; left out, clips run as fast as they can. */
  readonly pace?: (elapsedMs: number) => Promise<void>;
}

/** How much of a clip is pushed at once? As the microphone does: 20 ms. */
const PIECE_MS = 20;
/** Which silence stands around a clip, in milliseconds? Enough to know the room and to end the utterance. */
const BEFORE_CLIP_MS = 300;
const AFTER_CLIP_MS = 700;
/** Which level does no real microphone fall to, in dB? Nothing but zeros is -100. */
const DIGITAL_SILENCE_DB = -99;
/** For how many readings are zeros a pause of some driver, not a dead microphone? Ten seconds. */
const MOST_SILENT_READINGS = 40;
/** After how long is a microphone tried again that did not open, in milliseconds? Each time twice as long, up to the longest. */
const RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 32_000;
/** What came of an utterance that died with its listener. */
const LOST_PHRASE: HeardPhrase = {
  words: null, score: 0, listener: 'restarted', speechMs: 0, decisionMs: 0,
}; // prettier-ignore

export class Ear {
  readonly #ports: EarPorts;
  readonly #events: EarEvents;
  #state: EarState = 'off';
  #open: OpenMicrophone | null = null;
  /** Why an open microphone gives no sound; null where it does. */
  #paused: Fault | null = null;
  #silentReadings = 0;
  readonly #life: SignOfLife;
  #stopWaiting: () => void = () => undefined;
  /** How often it was tried in vain to open the microphone again. */
  #failedRetries = 0;
  #vocabulary: Vocabulary | null = null;
  #spoken = new SpokenVocabulary(LANGUAGES[0]);
  readonly #reported = new Set<string>();
  /** Counts starts and stops, so that a slow start can tell that it is no longer wanted. */
  #turn = 0;

  constructor(ports: EarPorts, events: EarEvents) {
    this.#ports = ports;
    this.#events = events;
    this.#life = new SignOfLife(ports.scheduler, {
      ask: () => ports.host.push(new Float32Array(0)),
      onNoSound: () => this.#pause(fault('microphone-silent', { detail: 'no frames' })),
      onDead: () => ports.host.restart(),
    });
  }

  get state(): EarState {
    return this.#state;
  }

  /** Switches the microphone on. Also the way back from "lost" and "failed". */
  async startListening(): Promise<void> {
    this.#failedRetries = 0;
    await this.#listen(false);
  }

  /** Tried again by itself it stays "lost" until it hears. */
  async #listen(isRetry: boolean): Promise<void> {
    const { microphone } = this.#ports;
    if (!microphone || this.#canHear() || this.#state === 'starting') return;
    this.#closeMicrophone();
    const turn = (this.#turn += 1);
    if (!isRetry) this.#enter('starting');
    if (!(await this.#startHost(turn))) return;
    const opened = await microphone.open({
      onLost: (lost) => {
        if (turn === this.#turn) this.#lose(lost);
      },
      onPaused: (why) => {
        if (turn === this.#turn) this.#pause(why);
      },
    });
    if (turn !== this.#turn) return opened.ok ? opened.value.close() : undefined;
    if (!opened.ok) {
      if (isRetry) this.#failedRetries += 1;
      return this.#lose(opened.error);
    }
    this.#failedRetries = 0;
    this.#open = opened.value;
    this.#connect();
  }

  /** Switches the microphone off; the listener stays loaded. */
  stop(): void {
    this.#turn += 1;
    this.#closeMicrophone();
    this.#enter('off');
  }

  /** Replaces what may be heard; an utterance under way is decided with the new one. */
  async setVocabulary(vocabulary: Vocabulary): Promise<void> {
    this.#vocabulary = vocabulary;
    const [said, untold] = this.#spoken.translate(vocabulary);
    this.#ports.third?.setVocabulary(said);
    const faults = [...untold, ...(await this.#ports.host.setVocabulary(said))];
    for (const fault of faults) this.#report(fault);
  }

  /** Who speaks from now on, and in which language. A microphone that is on stays on. */
  async setVoices(voices: CaseVoices): Promise<void> {
    const { language } = voices;
    const isOther = language !== this.#spoken.language;
    const wasOn = this.#open !== null;
    if (isOther) {
      this.#spoken = new SpokenVocabulary(language);
      this.#reported.clear();
      if (wasOn) this.stop();
    }
    await this.#ports.host.setVoices(voices);
    if (!isOther) return;
    if (this.#vocabulary) await this.setVocabulary(this.#vocabulary);
    if (wasOn) await this.startListening();
  }

  /**
   * While the wall speaks, and a quarter of a second after, nothing is heard; with echo
   * cancellation, who speaks over it. `texts` is what it says.
   */
  gate(isSpeaking: boolean, texts: readonly string[] = []): void {
    const isEchoCancelled = this.#open?.isEchoCancelled ?? false;
    this.#ports.host.gate(isSpeaking, { isEchoCancelled, texts });
  }

  /** Whether the browser's own recogniser is wanted may have changed. */
  reviewThird(): void {
    this.#ports.third?.review();
  }

  /** Hears recorded sound (16 kHz mono) instead of the microphone; resolves when it is decided. */
  async hear(pcm: Float32Array): Promise<void> {
    this.#closeMicrophone();
    if (!this.#canHear()) {
      this.#enter('starting');
      if (!(await this.#startHost((this.#turn += 1)))) return;
    }
    if (this.#state === 'starting') this.#enter('listening');
    const sound = withSilence(pcm);
    const piece = (PIECE_MS * SAMPLE_RATE_HZ) / 1000;
    for (let from = 0; from < sound.length && this.#canHear(); from += piece) {
      await this.#ports.pace?.((from * 1000) / SAMPLE_RATE_HZ);
      await this.#ports.host.push(sound.subarray(from, from + piece));
    }
  }

  /** Switches everything off and frees the listener. */
  async close(): Promise<void> {
    this.stop();
    await this.#ports.host.close();
  }

  /** The same trouble with the same word is told once: a vocabulary comes with every entry. */
  #report(fault: Fault): void {
    const key = JSON.stringify(fault);
    if (this.#reported.has(key)) return;
    this.#reported.add(key);
    this.#events.onFault(fault);
  }

  #canHear(): boolean {
    return this.#state === 'listening' || this.#state === 'hearing';
  }

  async #startHost(turn: number): Promise<boolean> {
    const started = await this.#ports.host.start({
      onPhrase: (heard) => this.#weigh(heard),
      onLevel: (levelDb, reading) => this.#takeLevel(levelDb, reading),
      onLearning: (learning) => this.#events.onLearning?.(learning),
      onHearing: (isHearing) => {
        if (isHearing) this.#ports.third?.beginUtterance();
        if (this.#canHear()) this.#enter(isHearing ? 'hearing' : 'listening');
      },
      onLostListener: (wasHearing) => {
        this.#life.stop();
        this.#enter('starting');
        if (!wasHearing) return;
        this.#events.onPhrase(LOST_PHRASE);
        this.#events.onFault(fault('utterance-lost'));
      },
      onRestarted: () => this.#connect(),
      onFailed: (why) => {
        this.#closeMicrophone();
        this.#enter('failed', why);
      },
    });
    if (turn !== this.#turn) return false;
    if (!started.ok) this.#enter('failed', started.error);
    else if (this.#vocabulary) await this.setVocabulary(this.#vocabulary);
    return started.ok && turn === this.#turn;
  }

  /** Lets the sound of the open microphone flow to the listener; recorded sound needs no connection. */
  #connect(): void {
    this.#enter('listening');
    if (!this.#open) return;
    this.#ports.host.listenTo(this.#open.connect());
    this.#ports.third?.listenTo(this.#open.track, this.#spoken.language.tag);
    this.#life.sign();
    this.#showFlow();
  }

  #weigh(heard: HeardPhrase): void {
    const tell = (weighed: HeardPhrase): void => {
      this.#events.onPhrase(this.#spoken.toWritten(weighed));
    };
    if (this.#ports.third) this.#ports.third.hear(heard, tell);
    else tell(heard);
  }

  #takeLevel(levelDb: number, reading: SoundReading): void {
    this.#events.onLevel(levelDb, reading);
    if (!this.#open) return;
    this.#life.sign();
    this.#silentReadings = levelDb <= DIGITAL_SILENCE_DB ? this.#silentReadings + 1 : 0;
    if (this.#silentReadings >= MOST_SILENT_READINGS && !this.#paused)
      this.#pause(fault('microphone-silent', { detail: 'zeros' }));
    if (this.#silentReadings === 0 && this.#paused?.code === 'microphone-silent') this.#pause(null);
  }

  /** The microphone is open and gives no sound, or gives it again (null). */
  #pause(why: Fault | null): void {
    this.#paused = why;
    if (why) this.#life.stop();
    else this.#life.sign();
    this.#showFlow();
  }

  #showFlow(): void {
    if (!this.#open) return;
    if (this.#paused) this.#enter('lost', this.#paused);
    else if (this.#state === 'lost') this.#enter('listening');
  }

  /** No microphone: waits for one; where it was refused, until it is allowed, as asking again would ask the person. */
  #lose(why: Fault): void {
    this.#closeMicrophone();
    this.#enter('lost', why);
    const { microphone, scheduler } = this.#ports;
    if (!microphone) return;
    const again = (): void => void this.#listen(true);
    if (why.code === 'microphone-refused') {
      this.#stopWaiting = microphone.whenAllowed(again);
      return;
    }
    const waitForOne = (): void => {
      this.#stopWaiting = microphone.whenPresent(again);
    };
    if (this.#failedRetries === 0) return waitForOne();
    // It is there and does not open: it is asked for ever more rarely.
    const waitMs = Math.min(LONGEST_RETRY_MS, RETRY_MS * 2 ** (this.#failedRetries - 1));
    this.#stopWaiting = scheduler.after(waitMs, waitForOne);
  }

  #closeMicrophone(): void {
    this.#stopWaiting();
    this.#life.stop();
    this.#ports.third?.stop();
    this.#open?.close();
    this.#open = null;
    this.#paused = null;
    this.#silentReadings = 0;
  }

  #enter(state: EarState, fault?: Fault): void {
    if (state === this.#state && !fault) return;
    this.#state = state;
    this.#events.onState(state, fault);
  }
}

function withSilence(pcm: Float32Array): Float32Array {
  const before = (BEFORE_CLIP_MS * SAMPLE_RATE_HZ) / 1000;
  const after = (AFTER_CLIP_MS * SAMPLE_RATE_HZ) / 1000;
  const sound = new Float32Array(before + pcm.length + after);
  sound.set(pcm, before);
  return sound;
}
