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
}

export interface RehearsalReport {
  readonly spoken: number;
  readonly rightAtFirst: number;
  /** Lines that were said again because the listener gave nothing or something else. */
  readonly repeated: readonly { readonly words: string; readonly heard: string | null }[];
  /** Talk that was taken for a command. */
  readonly falseActivations: readonly string[];
  /** The line at which it gave up, or the fault that stopped it; null when all was said. */
  readonly stoppedAt: string | null;
  readonly fault: Fault | null;
}

/** How often a line is said before the actor gives up. */
const MOST_TRIES = 3;
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
  const repeated: { words: string; heard: string | null }[] = [];
  const falseActivations: string[] = [];
  let rightAtFirst = 0;
  let spoken = 0;
  const report = (stoppedAt: string | null, fault: Fault | null = null): RehearsalReport => ({
    spoken, rightAtFirst, repeated, falseActivations, stoppedAt, fault,
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
        break;
      }
      repeated.push({ words: line.words, heard: heard.value });
      if (attempt === MOST_TRIES) return report(line.words);
      if (heard.value !== null && running.view.readBack && line.words !== 'confirm') {
        await sayLine(running, TAKE_BACK, stage);
      }
    }
  }
  return report(null);
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
    for (const entry of entries) if (entry.type === 'phrase.heard') answer(entry.data.words);
  });
  const played = await stage.speak(line);
  const words = played.ok
    ? await Promise.race([heard, stage.pause(ANSWER_WAIT_MS).then(() => null)])
    : null;
  stop();
  return played.ok ? { ok: true, value: words } : played;
}
