/**
 * The stage of a rehearsal before the built product: people speak into PulseAudio's room
 * over a theatre's noise, and what the wall made of it is read in the record on disk.
 */
import type { Page } from '@playwright/test';
// Past the folders' doors: they also open on JSON files that this test runner can't import.
import { loudPower, makeNoise, toPower } from '../../src/cli/noise-mix';
import type { Entry } from '../../src/domain';
import type { RehearsalStage } from '../../src/session/rehearsal/run';
import type { CaseUpdate, RunningCase } from '../../src/session/running-case';
import { SAMPLE_RATE_HZ } from '../../src/voice/listener';
import { resample } from '../../src/voice/resampler';
import type { LoopbackRoom } from './loopback-room';
import { loadAllClips, loadClip } from './sound-as-microphone';

/** The power of the loud parts of speech: -20 dB of full scale. */
const SPEECH_POWER = 0.01;
/** How fast lines are said, one after another: nobody says the same twice in the same way. */
const RATES = [1, 0.95, 1.05, 0.92, 1.08];
/** How long the noise goes on before it begins anew, in seconds. */
const NOISE_S = 20;
/** How long a decision may take on a busy machine, in milliseconds: a line said again too soon would count twice. */
const DECISION_WAIT_MS = 5_000;
/** How often the record is looked at, in milliseconds. */
const LOOK_MS = 150;
/** After these a read-back stands, or no longer. */
const READ_BACK: Readonly<Partial<Record<Entry['type'], boolean>>> = {
  'capture.offered': true,
  'capture.questioned': true,
  'capture.confirmed': false,
  'capture.withdrawn': false,
  'capture.lapsed': false,
};

/** Mixed noise that goes on for so long, so many dB below the speech. */
export async function makeTheatreNoise(seconds: number, snrDb: number): Promise<Float32Array> {
  // Every sixth recording is babble: people who do not mean the wall.
  const talk = (await loadAllClips()).filter((_, index) => index % 6 === 0);
  const once = toPower(
    makeNoise('mixed', NOISE_S * SAMPLE_RATE_HZ, 5, talk),
    SPEECH_POWER / 10 ** (snrDb / 10),
  );
  return Float32Array.from(
    { length: seconds * SAMPLE_RATE_HZ },
    (_, index) => once[index % once.length] ?? 0,
  );
}

/** The one case in the browser's record, as far as an actor looks at it. */
export class CaseOnDisk {
  readonly entries: Entry[] = [];
  readonly #subscribers = new Set<(update: CaseUpdate) => void>();
  #hasReadBack = false;

  constructor(private readonly page: Page) {}

  /** For the actor, which asks of a read-back only whether it stands, and gives no orders without a desk. */
  get running(): RunningCase {
    const readBack = (): boolean => this.#hasReadBack;
    const view = {
      get readBack() {
        return readBack() ? {} : null;
      },
    };
    const subscribe: RunningCase['subscribe'] = (subscriber) => {
      this.#subscribers.add(subscriber);
      return () => this.#subscribers.delete(subscriber);
    };
    return { view, subscribe } as unknown as RunningCase;
  }

  /** Looks at the record until something that fits was added, or the time is over. */
  async lookUntil(fits: (entry: Entry) => boolean, ms: number): Promise<boolean> {
    const from = this.entries.length;
    for (const endMs = Date.now() + ms; Date.now() < endMs;) {
      await this.look();
      if (this.entries.slice(from).some(fits)) return true;
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
    }
    return false;
  }

  async look(): Promise<void> {
    const added = (await this.page.evaluate(readEntries)).slice(this.entries.length);
    if (added.length === 0) return;
    this.entries.push(...added);
    for (const { type } of added) this.#hasReadBack = READ_BACK[type] ?? this.#hasReadBack;
    const entries = added.map((entry, index) =>
      isTooLate(added[index + 1]) ? asNotTaken(entry) : entry,
    );
    for (const tell of this.#subscribers)
      tell({ entries, announcements: [] } as unknown as CaseUpdate);
  }
}

/** Whether an order was refused because it was begun before what it answers was there: it is to be said again. */
function isTooLate(next: Entry | undefined): boolean {
  return next?.type === 'order.refused' && next.data.code === 'changed-meanwhile';
}

function asNotTaken(entry: Entry): Entry {
  return entry.type === 'phrase.heard' ? { ...entry, data: { ...entry.data, words: null } } : entry;
}

/** People who speak in the room, each line once at its level, and wait for what the wall does. */
export function createNoisyStage(room: LoopbackRoom, onDisk: CaseOnDisk): RehearsalStage {
  let said = 0;
  return {
    mostTries: 6,
    speak: async ({ who, words }) => {
      const rate = RATES[said++ % RATES.length] ?? 1;
      const clip = resample(await loadClip({ who, words }), SAMPLE_RATE_HZ * rate, SAMPLE_RATE_HZ);
      await room.play(toPower(clip, (SPEECH_POWER * meanPower(clip)) / loudPower(clip)));
      await onDisk.lookUntil(
        (entry) => entry.type === 'phrase.heard' && entry.data.words !== null,
        DECISION_WAIT_MS,
      );
      return { ok: true, value: undefined };
    },
    // The wall's voice is muted at the desk: the test takes the time of what people say.
    silence: () => Promise.resolve(),
    pause: (ms) => new Promise((resolve) => setTimeout(resolve, Math.min(ms, 700))),
  };
}

function meanPower(sound: Float32Array): number {
  return sound.reduce((total, x) => total + x * x, 0) / sound.length;
}

/** In the page: every entry of the record, in order. */
async function readEntries(): Promise<Entry[]> {
  const database = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open('cuewall-record');
    opening.onsuccess = () => {
      resolve(opening.result);
    };
    opening.onerror = () => {
      reject(new Error(String(opening.error)));
    };
  });
  const entries = await new Promise<Entry[]>((resolve, reject) => {
    const asking = database.transaction('entries').objectStore('entries').getAll();
    asking.onsuccess = () => {
      resolve(asking.result as Entry[]);
    };
    asking.onerror = () => {
      reject(new Error(String(asking.error)));
    };
  });
  database.close();
  return entries;
}
