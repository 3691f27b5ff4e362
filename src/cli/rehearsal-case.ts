/**
 * One rehearsed case in Node: a session on a memory record, the real voice activity and
 * the real listener, and lines that are played to them.
 */
import { asId, ok } from '../domain';
import type {
  CaptureValue,
  CaseId,
  Entry,
  Fault,
  HeardPhrase,
  Result,
  RunId,
  Side,
} from '../domain';
import { createMemoryStore } from '../record';
import { CaseSession, describeBuiltIn, runRehearsal } from '../session';
import type { RehearsalLine, RehearsalReport } from '../session';
import { DEFAULT_ADDRESS_PHRASE, Hearing, REHEARSAL_CLIPS, SAMPLE_RATE_HZ } from '../voice';
import type { Listener } from '../voice';
import { loadListener } from './load-listeners';
import { chooseTalk, createNoisyRoom } from './noisy-room';
import { loadRehearsalClip } from './sound-files';
import { createVirtualStage, VirtualClock } from './virtual-room';

/** After how long an unconfirmed read-back lapses, in milliseconds, as on the wall. */
const LAPSE_MS = 12_000;

/** How often a line is said in a loud room before it is pressed at the desk. */
const TRIES_IN_NOISE = 4;

/** What a case is opened with. */
export interface CaseToRehearse {
  readonly procedure: string;
  /** Instead of the built-in data of that name. */
  readonly data?: unknown;
  readonly side: Side;
  readonly plan: Readonly<Record<string, CaptureValue>>;
}

/** A case that was played to its end, or as far as it went. */
export interface PlayedCase {
  readonly session: CaseSession;
  readonly report: RehearsalReport;
  readonly heard: readonly HeardPhrase[];
  readonly audioMs: number;
  readonly tookMs: number;
}

/** Seven o'clock today, in wall time: the longest rehearsal is over before midnight, so today stays today. */
export function thisMorning(): number {
  return new Date().setHours(7, 0, 0, 0);
}

/** Opens a case in which nobody has said anything yet. */
export async function openCase(clock: VirtualClock, wanted: CaseToRehearse): Promise<CaseSession> {
  const card = describeBuiltIn(wanted.procedure);
  if (!card.ok) throw new Error(`"${wanted.procedure}" does not load: ${card.error.code}`);
  const opened = await CaseSession.open(
    { store: createMemoryStore(), clock, scheduler: clock, run: asId<RunId>('rehearsal') },
    { addressPhrase: DEFAULT_ADDRESS_PHRASE, lapseMs: LAPSE_MS },
    asId<CaseId>('case-rehearsal'),
    {
      procedureId: asId(card.value.id),
      procedure: wanted.data ?? card.value.data,
      mode: 'rehearsal',
      side: wanted.side,
      roles: [
        { role: 'surgeon', label: 'surgeon A' },
        { role: 'scrub', label: 'scrub A' },
      ],
      plan: wanted.plan,
    },
  );
  if (!opened.ok) throw new Error(`The case does not open: ${opened.error.code}`);
  return opened.value;
}

/** Plays the lines to a case and closes it. */
export async function playCase(
  wanted: CaseToRehearse,
  lines: readonly RehearsalLine[],
  loadClip: (line: RehearsalLine) => Promise<Result<Float32Array, Fault>>,
  onEntry: (entry: Entry) => void,
  noiseDb: number | null = null,
): Promise<PlayedCase> {
  const clock = new VirtualClock(thisMorning());
  const session = await openCase(clock, wanted);
  session.entries.forEach(onEntry);
  session.subscribe(({ entries }) => {
    entries.forEach(onEntry);
  });
  const listener = await loadListener('both');
  const ear = await joinEar(session, listener);
  const startedMs = performance.now();
  const room = noiseDb === null ? null : createNoisyRoom(noiseDb, await loadBabble());
  const stage = createVirtualStage({
    clock,
    push: ear.push,
    caughtUp: ear.caughtUp,
    loadClip: async (line) => {
      const clip = await loadClip(line);
      return clip.ok && room ? ok(room.say(clip.value)) : clip;
    },
    ...(room && { over: room.over, mostTries: TRIES_IN_NOISE, hasDesk: true }),
  });
  const report = await runRehearsal(session, lines, stage);
  const tookMs = performance.now() - startedMs;
  const outcome = report.stoppedAt === null ? 'finished' : 'abandoned';
  await session.submit({ type: 'case.close', outcome }, 'desk');
  await ear.caughtUp();
  await listener.close();
  return { session, report, heard: ear.heard, audioMs: ear.audioMs(), tookMs };
}

/** What the babble of a loud room is made of. */
async function loadBabble(): Promise<readonly Float32Array[]> {
  const clips = await Promise.all(
    chooseTalk(REHEARSAL_CLIPS).map(({ words, speaker }) =>
      loadRehearsalClip({ words, who: speaker }),
    ),
  );
  return clips.flatMap((clip) => (clip.ok ? [clip.value] : []));
}

/** Lets a case hear what is pushed, with the words that it understands at each moment. */
async function joinEar(session: CaseSession, listener: Listener) {
  const heard: HeardPhrase[] = [];
  let pending: Promise<unknown> = Promise.resolve();
  let pushed = 0;
  const hearing = new Hearing(listener, {
    onPhrase: (phrase) => {
      heard.push(phrase);
      pending = Promise.all([pending, session.hear(phrase)]);
    },
    onHearing: () => undefined,
    onLevel: () => undefined,
  });
  await hearing.setVocabulary(session.vocabulary);
  session.subscribe(({ entries }) => {
    if (entries.length > 0)
      pending = Promise.all([pending, hearing.setVocabulary(session.vocabulary)]);
  });
  return {
    heard,
    audioMs: () => (pushed * 1000) / SAMPLE_RATE_HZ,
    push: (samples: Float32Array) => {
      pushed += samples.length;
      return hearing.push(samples);
    },
    caughtUp: async () => {
      for (let last: unknown = null; last !== pending; await last) last = pending;
    },
  };
}
