/**
 * `npm run rehearse`: a whole spoken case without a screen. Committed recordings go
 * through the real voice activity and the real listener into a real session. Prints
 * every entry as a JSON line, and one JSON object last. Exit code 0 where the case
 * was completed, every size is the one that was said, and nothing else became one.
 */
import { asId } from '../domain';
import type { CaseId, Entry, HeardPhrase, RunId } from '../domain';
import { createMemoryStore } from '../record';
import { foldTimes, tabulatePhases } from '../review';
import {
  CaseSession, describeBuiltIn, REVERSE_SHOULDER_REHEARSAL, runRehearsal,
} from '../session'; // prettier-ignore
import type { CaseView, RehearsalReport } from '../session';
import { DEFAULT_ADDRESS_PHRASE, Hearing, SAMPLE_RATE_HZ } from '../voice';
import { loadListener } from './load-listeners';
import { loadRehearsalClip } from './sound-files';
import { createVirtualStage, VirtualClock } from './virtual-room';

/** After how long an unconfirmed read-back lapses, in milliseconds, as on the wall. */
const LAPSE_MS = 12_000;
/** The sizes that the rehearsal's people mean, by capture. */
const MEANT: Readonly<Record<string, string | number>> = {
  wedge: 16, direction: 630, seating: 'even', depth: 24, plate: 'small', post: 24, sphere: 40,
  'screw-1-kind': 'locking', 'screw-1-length': 30, 'screw-2-kind': 'non-locking', 'screw-2-length': 26,
}; // prettier-ignore

/** Runs the rehearsal. */
export async function run(): Promise<number> {
  const rehearsal = await rehearse((entry) => {
    console.log(JSON.stringify(entry));
  });
  console.log(JSON.stringify(rehearsal.summary));
  return rehearsal.isRight ? 0 : 1;
}

export interface Rehearsal {
  readonly isRight: boolean;
  readonly entries: readonly Entry[];
  readonly report: RehearsalReport;
  readonly summary: Readonly<Record<string, unknown>>;
}

/** Plays the demo case with a procedure, the flagship unless another is given. */
export async function rehearse(
  onEntry: (entry: Entry) => void,
  procedure?: unknown,
): Promise<Rehearsal> {
  const clock = new VirtualClock(Date.now());
  const session = await openCase(clock, procedure);
  session.entries.forEach(onEntry);
  session.subscribe(({ entries }) => {
    entries.forEach(onEntry);
  });

  const heard: HeardPhrase[] = [];
  let pending: Promise<unknown> = Promise.resolve();
  const listener = await loadListener('both');
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

  let pushed = 0;
  const startedMs = performance.now();
  const stage = createVirtualStage({
    clock,
    push: (samples) => {
      pushed += samples.length;
      return hearing.push(samples);
    },
    loadClip: loadRehearsalClip,
    caughtUp: async () => {
      for (let last: unknown = null; last !== pending; await last) last = pending;
    },
  });
  const report = await runRehearsal(session, REVERSE_SHOULDER_REHEARSAL, stage);
  const tookMs = performance.now() - startedMs;
  await session.submit(
    { type: 'case.close', outcome: report.stoppedAt === null ? 'finished' : 'abandoned' },
    'desk',
  );
  await listener.close();

  const audioMs = (pushed * 1000) / SAMPLE_RATE_HZ;
  const isRight = report.stoppedAt === null && hasMeantSizes(session.entries);
  return {
    isRight,
    entries: session.entries,
    report,
    summary: summarise(session.view, session.entries, report, heard, { audioMs, tookMs, isRight }),
  };
}

async function openCase(clock: VirtualClock, procedure?: unknown): Promise<CaseSession> {
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error('The flagship does not load');
  const opened = await CaseSession.open(
    { store: createMemoryStore(), clock, scheduler: clock, run: asId<RunId>('rehearsal') },
    { addressPhrase: DEFAULT_ADDRESS_PHRASE, lapseMs: LAPSE_MS },
    asId<CaseId>('case-rehearsal'),
    {
      procedureId: asId(card.value.id),
      procedure: procedure ?? card.value.data,
      mode: 'rehearsal',
      side: 'right',
      roles: [
        { role: 'surgeon', label: 'surgeon A' },
        { role: 'scrub', label: 'scrub A' },
      ],
      plan: { wedge: 16, direction: 630, depth: 24, sphere: 40 },
    },
  );
  if (!opened.ok) throw new Error(`The case does not open: ${opened.error.code}`);
  return opened.value;
}

/** Every size that was confirmed is the one that was meant, and none is missing. */
function hasMeantSizes(entries: readonly Entry[]): boolean {
  const confirmed = new Map<string, string | number>();
  for (const entry of entries) {
    if (entry.type === 'capture.confirmed') confirmed.set(entry.data.capture, entry.data.value);
  }
  return Object.entries(MEANT).every(([capture, value]) => confirmed.get(capture) === value);
}

function summarise(
  view: CaseView,
  entries: readonly Entry[],
  report: RehearsalReport,
  heard: readonly HeardPhrase[],
  { audioMs, tookMs, isRight }: { audioMs: number; tookMs: number; isRight: boolean },
): Rehearsal['summary'] {
  const now = entries.at(-1);
  if (!now) throw new Error('A case without entries');
  const decisions = heard.map(({ decisionMs }) => decisionMs).sort((a, b) => a - b);
  const at = (part: number) =>
    Math.round(decisions[Math.floor(part * (decisions.length - 1))] ?? 0);
  return {
    mode: view.mode,
    status: view.outcome,
    isRight,
    sizes: Object.fromEntries(
      view.sizes.map(({ label, parts }) => [
        label,
        parts
          .filter(({ state }) => state === 'settled')
          .map(({ text, unit }) => `${text}${unit && ` ${unit}`}`),
      ]),
    ),
    refusals: view.refusals
      .filter(({ code }) => code !== 'phrase-not-understood')
      .map(({ code, text, conditions }) => ({
        code,
        said: text.happened,
        missing: conditions.filter(({ isMet }) => !isMet).map((condition) => condition.text),
      })),
    timings: tabulatePhases(foldTimes(entries, view.outline), view.outline, now).map((row) => ({
      track: row.track,
      phase: row.title,
      totalS: Math.round(row.totalMs / 1000),
      workS: Math.round(row.workMs / 1000),
      waitS: Math.round(row.waitMs / 1000),
      clockHeldS: Math.round(row.clockHeldMs / 1000),
      repeats: row.repeats,
    })),
    recogniser: {
      linesSpoken: report.spoken,
      rightAtFirst: report.rightAtFirst,
      repeated: report.repeated,
      falseActivations: report.falseActivations,
      stoppedAt: report.stoppedAt,
      endOfSpeechToDecisionMs: { median: at(0.5), p95: at(0.95), most: at(1) },
      audioS: Math.round(audioMs / 1000),
      realTimeFactor: Number((tookMs / audioMs).toFixed(3)),
    },
  };
}
