/**
 * The stage of a spoken case before the built product: people who speak in PulseAudio's
 * room over a theatre's noise, and what the wall made of it, read in the record on disk.
 */
import type { Page } from '@playwright/test';
import type { Entry } from '../../src/domain';
import { isSaidAgain } from '../../src/session/refused-orders';
import type { RehearsalStage } from '../../src/session/rehearsal/run';
import type { CaseOnDisk } from './case-on-disk';
import type { LoopbackRoom } from './loopback-room';
import { speakLine } from './theatre-people';
import type { People } from './theatre-people';

/** How long a decision may take on a busy machine, in milliseconds: a line said again too soon would count twice. */
const DECISION_WAIT_MS = 5_000;
/** How long the wall must have said nothing before somebody speaks, in milliseconds: one announcement may follow another. */
const SILENT_FOR_MS = 400;
const LOOK_MS = 100;
/** How often a line is said before it counts as stuck: a busy machine loses sound for many seconds. */
const MOST_TRIES = 12;
/** Nobody works between these lines: a pause is no longer than this, in milliseconds; the silence before it counts as well. */
const LONGEST_PAUSE_MS = 300;

/** These people speak in the room, each line once at its level, and wait for what the wall does and says. */
export function createNoisyStage(
  people: People,
  room: LoopbackRoom,
  page: Page,
  onDisk: CaseOnDisk,
): RehearsalStage {
  let turn = 0;
  const sleep = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
  return {
    mostTries: MOST_TRIES,
    speak: async (line) => {
      const sound = speakLine(people, line, turn++);
      onDisk.expect(line.isTalk ? null : line.words);
      await room.play(sound);
      const saidAt = Date.now();
      // What was decided before the line was over is about something else.
      await onDisk.lookUntil(
        (entry) => isTaken(entry) || (entry.at >= saidAt && isAskedAgain(entry)),
        DECISION_WAIT_MS,
      );
      return { ok: true, value: undefined };
    },
    silence: async () => {
      const speaking = page.getByText('Speaking', { exact: true });
      for (let silentMs = 0; silentMs < SILENT_FOR_MS; silentMs += LOOK_MS) {
        if (await speaking.isVisible()) silentMs = -LOOK_MS;
        await sleep(LOOK_MS);
      }
    },
    pause: async (ms) => {
      await sleep(Math.min(ms, LONGEST_PAUSE_MS));
      // What is taken of what was said before is no answer to what comes.
      await onDisk.look();
    },
  };
}

function isTaken({ type, data }: Entry): boolean {
  return type === 'phrase.heard' && data.words !== null;
}

/** Who is asked to say it again does so at once. */
function isAskedAgain({ type, data }: Entry): boolean {
  return type === 'order.refused' && isSaidAgain(data.code);
}
