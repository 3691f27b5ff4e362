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
/** Lines that answer a read-back. */
const ANSWERS: ReadonlySet<string> = new Set(['confirm', TAKE_BACK.words]);
/** How long the actor waits for the wall after a line, in milliseconds. */
const ANSWER_WAIT_MS = 2_500;

// A play with everything that may go wrong in it: its order is the point, so it stands in one place.
/* eslint-disable complexity */
/** Plays the lines. `onLine` is told before each; `isStopped` ends it between lines. */
export async function runRehearsal(
  running: RunningCase,
  lines: readonly RehearsalLine[],
  stage: RehearsalStage,
  onLine: (line: RehearsalLine, index: number) => void = () => undefined,
  isStopped: () => boolean = () => false,
): Promise<RehearsalReport> {
  const repeated: { words: string; heard: string | null }[] = [];
  const falseActivations: string[] = [];
  const typed: string[] = [];
  let rightAtFirst = 0;
  let spoken = 0;
  /** The line whose read-back waits for an answer. */
  let offer: RehearsalLine | null = null;
  const { mostTries = MOST_TRIES, hasDesk = false } = stage;
  const report = (stoppedAt: string | null, fault: Fault | null = null): RehearsalReport => ({
    spoken, rightAtFirst, repeated, typed, falseActivations, stoppedAt, fault,
  }); // prettier-ignore

  for (const [index, line] of lines.entries()) {
    if (isStopped()) return report(line.words);
    onLine(line, index);
    spoken += 1;
    for (let attempt = 1; ; attempt += 1) {
      const heard = await sayLine(running, line, stage);
      if (!heard.ok) return report(line.words, heard.error);
      if (line.isTalk) {
        if (heard.value !== null) falseActivations.push(heard.value);
        break;
      }
      if (heard.value === line.words) {
        if (attempt === 1) rightAtFirst += 1;
        if (running.view.readBack) offer = line;
        break;
      }
      repeated.push({ words: line.words, heard: heard.value });
      if (attempt >= mostTries) {
        if (!hasDesk) return report(line.words);
        typed.push(line.words);
        // After its read-back lapsed a size has to be typed again before it is confirmed.
        if (offer && !running.view.readBack && line.words === 'confirm') await type(running, offer);
        await type(running, line);
        if (running.view.readBack) offer = line;
        break;
      }
      const isAnswer = ANSWERS.has(line.words);
      if (heard.value !== null && running.view.readBack && !isAnswer) {
        await sayUntil(running, TAKE_BACK, stage, mostTries, () => !running.view.readBack);
      }
      // A read-back that lapsed, or was taken back by mistake, has to come again before its answer.
      if (isAnswer && offer && !running.view.readBack) {
        await sayUntil(running, offer, stage, mostTries, () => running.view.readBack !== null);
      }
    }
  }
  return report(null);
}

/* eslint-enable complexity */

/** Gives a line's order at the desk; what the words don't mean now is left, and shows at the end. */
async function type(running: RunningCase, { words }: RehearsalLine): Promise<void> {
  const phrase = running.vocabulary.phrases.find((one) => one.words === words);
  if (phrase) await running.submit(phrase.order, 'desk');
}

/** Says a line until it did what it was for, or too often. */
async function sayUntil(
  running: RunningCase,
  line: RehearsalLine,
  stage: RehearsalStage,
  mostTries: number,
  isDone: () => boolean,
): Promise<void> {
  for (let attempt = 0; attempt < mostTries && !isDone(); attempt += 1) {
    await sayLine(running, line, stage);
  }
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
