/**
 * The wall's ear: a source of sound joined to hearing, and what state that is in.
 * The microphone and recorded clips go the same way. It says what is wrong and can
 * always be asked to listen again; it never gives up by itself.
 */
import type { Fault, HeardPhrase, Vocabulary } from '../domain';
import type { CaseVoices, HearingHost } from './hearing-host';
import { LANGUAGES, languageOf } from './languages';
import { SAMPLE_RATE_HZ } from './listener';
import type { Microphone, OpenMicrophone } from './microphone';
import { SpokenVocabulary } from './spoken-language';

/** lost: no sound comes in; failed: nobody listens to it. */
export type EarState = 'off' | 'starting' | 'listening' | 'hearing' | 'lost' | 'failed';

export interface EarEvents {
  onPhrase(heard: HeardPhrase): void;
  onState(state: EarState, fault?: Fault): void;
  /** Level of the last quarter of a second, in dB of full scale. */
  onLevel(levelDb: number): void;
  /** A word of the vocabulary that can't be heard; the rest can. */
  onFault(fault: Fault): void;
}

export interface EarPorts {
  readonly host: HearingHost;
  /** Null where only recorded sound is heard. */
  readonly microphone: Microphone | null;
  /** Waits until `elapsedMs` of a clip would have been spoken; left out, clips run as fast as they can. */
  readonly pace?: (elapsedMs: number) => Promise<void>;
}

/** How much of a clip is pushed at once? As the microphone does: 20 ms. */
const PIECE_MS = 20;
/** Which silence stands around a clip, in milliseconds? Enough to know the room and to end the utterance. */
const BEFORE_CLIP_MS = 300;
const AFTER_CLIP_MS = 700;

export class Ear {
  readonly #ports: EarPorts;
  readonly #events: EarEvents;
  #state: EarState = 'off';
  #open: OpenMicrophone | null = null;
  #vocabulary: Vocabulary | null = null;
  #spoken = new SpokenVocabulary(LANGUAGES[0]);
  readonly #reported = new Set<string>();
  /** Counts starts and stops, so that a slow start can tell that it is no longer wanted. */
  #turn = 0;

  constructor(ports: EarPorts, events: EarEvents) {
    this.#ports = ports;
    this.#events = events;
  }

  get state(): EarState {
    return this.#state;
  }

  /** Switches the microphone on. Also the way back from "lost" and "failed". */
  async startListening(): Promise<void> {
    const { microphone, host } = this.#ports;
    if (!microphone || this.#open || this.#state === 'starting') return;
    const turn = (this.#turn += 1);
    if (!(await this.#startHost(turn))) return;
    const opened = await microphone.open((lost) => {
      this.#open = null;
      this.#enter('lost', lost);
    });
    if (!opened.ok) return this.#enter('lost', opened.error);
    if (turn !== this.#turn) return opened.value.close();
    this.#open = opened.value;
    host.listenTo(opened.value.connect());
    this.#enter('listening');
  }

  /** Switches the microphone off; the listener stays loaded. */
  stop(): void {
    this.#turn += 1;
    this.#open?.close();
    this.#open = null;
    this.#enter('off');
  }

  /** Replaces what may be heard; an utterance under way is decided with the new one. */
  async setVocabulary(vocabulary: Vocabulary): Promise<void> {
    this.#vocabulary = vocabulary;
    const [said, untold] = this.#spoken.translate(vocabulary);
    const faults = [...untold, ...(await this.#ports.host.setVocabulary(said))];
    for (const fault of faults) this.#report(fault);
  }

  /** Who speaks from now on, and in which language. A microphone that is on stays on. */
  async setVoices(voices: CaseVoices): Promise<void> {
    const language = languageOf(voices.language);
    const isOther = language !== this.#spoken.language;
    const wasOn = this.#open !== null;
    if (isOther) {
      this.#spoken = new SpokenVocabulary(language);
      this.#reported.clear();
      if (wasOn) this.stop();
    }
    await this.#ports.host.setVoices({ ...voices, language: language.tag });
    if (!isOther) return;
    if (this.#vocabulary) await this.setVocabulary(this.#vocabulary);
    if (wasOn) await this.startListening();
  }

  /** While the wall speaks, and a quarter of a second after, nothing is heard. */
  gate(isSpeaking: boolean): void {
    this.#ports.host.gate(isSpeaking);
  }

  /** Hears recorded sound (16 kHz mono) instead of the microphone; resolves when it is decided. */
  async hear(pcm: Float32Array): Promise<void> {
    this.#open?.close();
    this.#open = null;
    if (!this.#canHear() && !(await this.#startHost((this.#turn += 1)))) return;
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
    this.#enter('starting');
    const started = await this.#ports.host.start({
      onPhrase: (heard) => this.#events.onPhrase(this.#spoken.toWritten(heard)),
      onLevel: (levelDb) => this.#events.onLevel(levelDb),
      onHearing: (isHearing) => {
        if (this.#canHear()) this.#enter(isHearing ? 'hearing' : 'listening');
      },
      onRestarted: () => {
        if (this.#open) this.#ports.host.listenTo(this.#open.connect());
      },
      onFailed: (fault) => {
        this.#open?.close();
        this.#open = null;
        this.#enter('failed', fault);
      },
    });
    if (turn !== this.#turn) return false;
    if (!started.ok) this.#enter('failed', started.error);
    else if (this.#vocabulary) await this.setVocabulary(this.#vocabulary);
    return started.ok && turn === this.#turn;
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
