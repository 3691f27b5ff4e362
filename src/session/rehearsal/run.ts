/**
 * Plays a rehearsal: speaks each line to the real listener and watches what comes of
 * it, as people would. A line that was misheard is taken back and said again. Knows
 * neither browser nor Node: sound and waiting are a stage.
 */
import type { Fault, Result } from '../../domain';
import type { RunningCase } from '../running-case';
import { TAKE_BACK } from './script';
import type { RehearsalLine } from './script';

/** Where a rehearsal is played. */
export interface RehearsalStage {
  /** Plays the recording of a line to the listener; resolves when it has ended and was decided on. */
  speak(line: RehearsalLine): Promise<Result<void, Fault>>;
  /** Resolves when the wall is not speaking. */
  silence(): Promise<void>;
  pause(ms: number): Promise<void>;
  /** How often a line is said before the actor gives up: three times, more in a loud room. */
  readonly mostTries?: number;
  /** Whether somebody at the desk presses what was not heard so often; else the actor gives up. */
  readonly hasDesk?: boolean;
}

export interface RehearsalReport {
  readonly spoken: number;
  readonly rightAtFirst: number;
  /** Lines that were said again because the listener gave nothing or something else. */
  readonly repeated: readonly { readonly words: string; readonly heard: string | null }[];
  /** Lines that were pressed at the desk in the end. */
  readonly typed: readonly string[];
  /** Talk that was taken for a command. */
  readonly falseActivations: readonly string[];
  /** The line at which it gave up, or the fault that stopped it; null when all was said. */
  readonly stoppedAt: string | null;
  readonly fault: Fault | null;
}

/** How often a line is said in a quiet room before the actor gives up. */
const MOST_TRIES = 3;
/** Lines that settle a read-back; with those that correct it, they mean nothing without one. */
const SETTLING: ReadonlySet<string> = new Set(['confirm', TAKE_BACK.words]);
const CORRECTING = 'correct ';
/** How long the actor waits for the wall after a line, in milliseconds. */
const ANSWER_WAIT_MS = 2_500;

/** Plays the lines. `onLine` is told before each; `isStopped` ends it between lines. */
export async function runRehearsal(
  running: RunningCase,
  lines: readonly RehearsalLine[],
  stage: RehearsalStage,
  onLine: (line: RehearsalLine, index: number) => void = () => undefined,
  isStopped: () => boolean = () => false,
): Promise<RehearsalReport> {
  const actor = new Actor(running, stage);
  for (const [index, line] of lines.entries()) {
    if (isStopped()) return actor.report(line.words);
    onLine(line, index);
    const played = await actor.play(line);
    if (played !== 'done') return actor.report(line.words, played === 'gave up' ? null : played);
  }
  return actor.report(null);
}

/** Says lines until they are taken as they were meant, and remembers how it went. */
class Actor {
  readonly #repeated: { words: string; heard: string | null }[] = [];
  readonly #falseActivations: string[] = [];
  readonly #typed: string[] = [];
  readonly #mostTries: number;
  #rightAtFirst = 0;
  #spoken = 0;
  /** The lines that led to the latest read-back: what was offered, and how that was corrected. */
  #offer: readonly RehearsalLine[] = [];

  constructor(
    private readonly running: RunningCase,
    private readonly stage: RehearsalStage,
  ) {
    this.#mostTries = stage.mostTries ?? MOST_TRIES;
  }

  report(stoppedAt: string | null, fault: Fault | null = null): RehearsalReport {
    return {
      spoken: this.#spoken, rightAtFirst: this.#rightAtFirst, repeated: this.#repeated,
      typed: this.#typed, falseActivations: this.#falseActivations, stoppedAt, fault,
    }; // prettier-ignore
  }

  /** Plays one line to its end, or says why that could not be. */
  async play(line: RehearsalLine): Promise<'done' | 'gave up' | Fault> {
    this.#spoken += 1;
    for (let attempt = 1; attempt <= this.#mostTries; attempt += 1) {
      const heard = await sayLine(this.running, line, this.stage);
      if (!heard.ok) return heard.error;
      if (line.isTalk) {
        if (heard.value !== null) this.#falseActivations.push(heard.value);
        return 'done';
      }
      if (heard.value === line.words) {
        if (attempt === 1) this.#rightAtFirst += 1;
        this.#remember(line);
        return 'done';
      }
      this.#repeated.push({ words: line.words, heard: heard.value });
      if (attempt < this.#mostTries) await this.#setRight(line, heard.value);
    }
    if (this.stage.hasDesk !== true) return 'gave up';
    await this.#typeInstead(line);
    return 'done';
  }

  #remember(line: RehearsalLine): void {
    if (!this.running.view.readBack) return;
    this.#offer = isCorrection(line) ? [...this.#offer, line] : [line];
  }

  /** After a line was not taken as meant: what is read back wrongly goes, what is to be answered comes again. */
  async #setRight(line: RehearsalLine, heard: string | null): Promise<void> {
    const isReadBack = (): boolean => this.running.view.readBack !== null;
    if (heard !== null && isReadBack() && !isAnswer(line)) {
      await this.#sayUntil(TAKE_BACK, () => !isReadBack());
    }
    // A read-back that lapsed, or was taken back by mistake, has to come again before its answer.
    if (!isAnswer(line) || isReadBack()) return;
    for (const offer of this.#offer) await this.#sayUntil(offer, (taken) => taken === offer.words);
  }

  async #sayUntil(line: RehearsalLine, isDone: (taken: string | null) => boolean): Promise<void> {
    for (let attempt = 0; attempt < this.#mostTries; attempt += 1) {
      const heard = await sayLine(this.running, line, this.stage);
      if (!heard.ok || isDone(heard.value)) return;
    }
  }

  async #typeInstead(line: RehearsalLine): Promise<void> {
    this.#typed.push(line.words);
    // After its read-back lapsed a size has to be typed again before it is answered.
    if (!this.running.view.readBack && isAnswer(line))
      for (const offer of this.#offer) await type(this.running, offer);
    await type(this.running, line);
    this.#remember(line);
  }
}

function isAnswer(line: RehearsalLine): boolean {
  return SETTLING.has(line.words) || isCorrection(line);
}

function isCorrection({ words }: RehearsalLine): boolean {
  return words.startsWith(CORRECTING);
}

/** Gives a line's order at the desk; what the words don't mean now is left, and shows at the end. */
async function type(running: RunningCase, { words }: RehearsalLine): Promise<void> {
  const phrase = running.vocabulary.phrases.find((one) => one.words === words);
  if (phrase) await running.submit(phrase.order, 'desk');
}

/** Says one line, or types it, and gives the words that were made of it; null for nothing. */
async function sayLine(
  running: RunningCase,
  line: RehearsalLine,
  stage: RehearsalStage,
): Promise<Result<string | null, Fault>> {
  if (line.desk) {
    const source = line.desk.type === 'label.scan' ? 'scanner' : 'desk';
    const { refusal } = await running.submit(line.desk, source);
    const isAsMeant = refusal?.code === line.refusedAs;
    if (isAsMeant) return { ok: true, value: line.words };
    return refusal ? { ok: false, error: refusal } : { ok: true, value: null };
  }
  await stage.silence();
  await stage.pause(line.pauseMs);
  let answer: (words: string | null) => void = () => undefined;
  const heard = new Promise<string | null>((resolve) => {
    answer = resolve;
  });
  const stop = running.subscribe(({ entries }) => {
    for (const entry of entries) {
      // A noise that was taken for speech is no answer to the line.
      if (entry.type === 'phrase.heard' && entry.data.words !== null) answer(entry.data.words);
    }
  });
  const played = await stage.speak(line);
  const words = played.ok
    ? await Promise.race([heard, stage.pause(ANSWER_WAIT_MS).then(() => null)])
    : null;
  stop();
  return played.ok ? { ok: true, value: words } : played;
}
