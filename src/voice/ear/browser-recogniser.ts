/**
 * The browser's own recogniser (Web Speech API, W3C community group), used only where the
 * browser declares that it works on this machine. Hears the wall's own microphone, is told
 * which phrases may be said, and gives its words; what they count for is in
 * third-opinion.ts. The browser's globals are passed in.
 */
import { fault } from '../../domain';
import type { Fault, OnDeviceState, Scheduler, Vocabulary } from '../../domain';

/** What is needed from the browser; undefined where it has none. */
export interface RecogniserPlatform {
  readonly Recognition: typeof SpeechRecognition | undefined;
  /** A phrase with its weight, as `phrases` of a recogniser takes it; newer than the typings. */
  readonly Phrase: (new (phrase: string, boost: number) => unknown) | undefined;
}

type WithPhrases = SpeechRecognition & { phrases?: unknown };

/** By how much is a phrase that may be said now preferred? 0 to 10, by the draft; the middle. */
const BOOST = 5;
/** After how long is an ended session begun again, in milliseconds? A browser ends one by itself after some silence. */
const AGAIN_MS = 300;
/** After these errors it is of no use to begin again (the draft's SpeechRecognitionErrorCode). */
const FINAL_ERRORS: ReadonlySet<string> = new Set([
  'not-allowed', 'service-not-allowed', 'language-not-supported', 'network', 'audio-capture',
]); // prettier-ignore

/** Whether the browser promises to recognise this language (BCP 47) on this machine. */
export async function checkOnDevice(
  { Recognition }: RecogniserPlatform,
  language: string,
): Promise<OnDeviceState> {
  if (!Recognition) return 'none';
  if (!canPromise(Recognition)) return 'no-promise';
  try {
    return await Recognition.available({ langs: [language], processLocally: true });
  } catch {
    // A policy of the page or the machine forbids it: as good as not there.
    return 'unavailable';
  }
}

/** Lets the browser fetch its language pack: asked for by a person only. */
export async function installOnDevice(
  platform: RecogniserPlatform,
  language: string,
): Promise<OnDeviceState> {
  const { Recognition } = platform;
  if (!Recognition || !canPromise(Recognition)) return checkOnDevice(platform, language);
  await Recognition.install({ langs: [language], processLocally: true }).catch(() => false);
  return checkOnDevice(platform, language);
}

/** An older browser knows no `processLocally`: setting it would change nothing. */
function canPromise(Recognition: typeof SpeechRecognition): boolean {
  return typeof Recognition.available === 'function' && 'processLocally' in Recognition.prototype;
}

export interface RecogniserEvents {
  /** What it takes the latest speech for, the likeliest first; comes again as it makes up its mind. */
  onWords(alternatives: readonly string[]): void;
  /** It ended for good. */
  onFault(fault: Fault): void;
}

export class BrowserRecogniser {
  #session: SpeechRecognition | null = null;
  #track: MediaStreamTrack | null = null;
  #language = '';
  #vocabulary: Vocabulary | null = null;
  #cancel: () => void = () => undefined;
  /** Counts starts and stops, so that a slow answer can tell that it is no longer wanted. */
  #turn = 0;

  constructor(
    private readonly platform: RecogniserPlatform,
    private readonly scheduler: Scheduler,
    private readonly events: RecogniserEvents,
  ) {}

  /** Listens to this track, in this language, where the browser promises what it must. */
  async start(track: MediaStreamTrack, language: string): Promise<void> {
    this.stop();
    const turn = this.#turn;
    const state = await checkOnDevice(this.platform, language);
    if (turn !== this.#turn) return;
    if (state !== 'available') return this.#fail(state);
    this.#track = track;
    this.#language = language;
    this.#begin();
  }

  stop(): void {
    this.#turn += 1;
    this.#track = null;
    this.#end();
  }

  /** What may be said now; while the ear is shut it does not listen either. */
  setVocabulary(vocabulary: Vocabulary): void {
    const wasShut = this.#vocabulary?.isShut === true;
    this.#vocabulary = vocabulary;
    if (vocabulary.isShut) return this.#end();
    if (wasShut) this.#begin();
    else if (this.#session) this.#tellPhrases(this.#session);
  }

  #begin(): void {
    const { Recognition } = this.platform;
    if (!Recognition || !this.#track || this.#session || this.#vocabulary?.isShut) return;
    const session = new Recognition();
    session.lang = this.#language;
    session.processLocally = true;
    session.continuous = true;
    session.interimResults = true;
    session.maxAlternatives = 3;
    this.#tellPhrases(session);
    session.onresult = ({ results }) => {
      const latest = results[results.length - 1];
      if (latest) this.events.onWords(Array.from(latest, ({ transcript }) => transcript));
    };
    session.onerror = ({ error }) => {
      if (FINAL_ERRORS.has(error)) this.#fail(error);
    };
    session.onend = () => {
      if (this.#session !== session) return;
      this.#session = null;
      this.#cancel = this.scheduler.after(AGAIN_MS, () => {
        this.#begin();
      });
    };
    this.#session = session;
    session.start(this.#track);
  }

  #end(): void {
    this.#cancel();
    const session = this.#session;
    this.#session = null;
    session?.abort();
  }

  #fail(detail: string): void {
    this.stop();
    this.events.onFault(fault('browser-recogniser-stopped', { detail }));
  }

  /** Left out where the browser takes no phrases: it then hears without knowing what may be said. */
  #tellPhrases(session: WithPhrases): void {
    const { Phrase } = this.platform;
    if (!Phrase || !('phrases' in session) || !this.#vocabulary) return;
    const { addressPhrase, phrases } = this.#vocabulary;
    session.phrases = phrases.map(
      ({ words }) => new Phrase(`${addressPhrase} ${words}`.trim(), BOOST),
    );
  }
}
