/**
 * `npm run rehearse [-- --procedure NAME | --implants] [--noise DB]`: a whole spoken case without a screen. Lines go
 * as sound through the real voice activity and the real listener into a real session. With
 * a name an actor writes the script from the plan of that procedure (any built-in one); with
 * `--implants` packs are scanned as well, and the wrong ones have to be caught;
 * without, the recorded demo case is played. `--noise 10` lets a theatre's noise go on 10 dB
 * below the speech; the people then say again what was not taken, and press it at the desk after four times. Prints every entry as a JSON line, and one
 * JSON object last. Exit code 0 where the case was completed, every size, answer, count
 * and choice is the one that was meant, and nothing else became one.
 */
import type { Entry, HeardPhrase } from '../domain';
import { foldTimes, tabulatePhases } from '../review';
import {
  IMPLANTS_REHEARSAL, REHEARSAL_PLANS, REVERSE_SHOULDER_REHEARSAL, writeScript,
} from '../session'; // prettier-ignore
import type { CaseView, RehearsalPlan, RehearsalReport } from '../session';
import { compareCases } from './compare-cases';
import { installDebianPackages } from './debian-packages';
import { openCase, playCase, thisMorning } from './rehearsal-case';
import type { CaseToRehearse, PlayedCase } from './rehearsal-case';
import { listOpenPacks, summariseImplants } from './rehearsal-implants';
import { loadRehearsalClip } from './sound-files';
import { loadSpokenLine } from './spoken-lines';
import { VirtualClock } from './virtual-room';

/** The sizes that the recorded demo case's people mean, by capture. */
const MEANT: Readonly<Record<string, string | number>> = {
  wedge: 16, direction: 630, seating: 'even', depth: 24, plate: 'small', post: 24, sphere: 40,
  'screw-1-kind': 'locking', 'screw-1-length': 30, 'screw-2-kind': 'non-locking', 'screw-2-length': 26,
}; // prettier-ignore

/** Runs the rehearsal. */
export async function run(args: readonly string[] = []): Promise<number> {
  const at = args.indexOf('--procedure');
  const name = at === -1 ? undefined : args[at + 1];
  const plan = args.includes('--implants')
    ? IMPLANTS_REHEARSAL
    : REHEARSAL_PLANS.find(({ procedure }) => procedure === name);
  if (at !== -1 && !plan) {
    console.error(`Give one of: ${REHEARSAL_PLANS.map(({ procedure }) => procedure).join(', ')}.`);
    return 2;
  }
  const noiseAt = args.indexOf('--noise');
  const noiseDb = noiseAt === -1 ? null : Number(args[noiseAt + 1]);
  if (Number.isNaN(noiseDb)) {
    console.error('Give --noise in dB below the speech, such as --noise 10.');
    return 2;
  }
  if (plan) await installDebianPackages(['flite', 'sox']);
  const print = (entry: Entry) => {
    console.log(JSON.stringify(entry));
  };
  const rehearsal = await (plan
    ? rehearsePlan(plan, print, noiseDb)
    : rehearse(print, undefined, noiseDb));
  console.log(JSON.stringify(rehearsal.summary));
  return rehearsal.isRight ? 0 : 1;
}

export interface Rehearsal {
  readonly isRight: boolean;
  readonly entries: readonly Entry[];
  readonly report: RehearsalReport;
  readonly summary: Readonly<Record<string, unknown>>;
}

/** Plays the recorded demo case, with the glenoid procedure unless another is given. */
export async function rehearse(
  onEntry: (entry: Entry) => void,
  procedure?: unknown,
  noiseDb: number | null = null,
): Promise<Rehearsal> {
  const wanted: CaseToRehearse = {
    procedure: 'reverse-shoulder-glenoid',
    data: procedure,
    side: 'right',
    plan: { wedge: 16, direction: 630, depth: 24, sphere: 40 },
  };
  const played = await playCase(
    wanted,
    REVERSE_SHOULDER_REHEARSAL,
    loadRehearsalClip,
    onEntry,
    noiseDb,
  );
  const { entries } = played.session;
  const confirmed = new Map<string, string | number>();
  for (const entry of entries) {
    if (entry.type === 'capture.confirmed') confirmed.set(entry.data.capture, entry.data.value);
  }
  const differing = Object.entries(MEANT).flatMap(([capture, value]) =>
    confirmed.get(capture) === value ? [] : [`${capture} is not ${value}`],
  );
  return toRehearsal(played, differing);
}

/** Lets the actor write a case by its plan, and plays it. */
export async function rehearsePlan(
  plan: RehearsalPlan,
  onEntry: (entry: Entry) => void,
  noiseDb: number | null = null,
): Promise<Rehearsal> {
  const { procedure, side, planned = {} } = plan;
  const wanted: CaseToRehearse = { procedure, side, plan: planned };
  const clock = new VirtualClock(thisMorning());
  const unheard = await openCase(clock, wanted);
  const script = await writeScript(
    { running: unheard, advance: (ms) => { clock.advance(ms); } }, plan,
  ); // prettier-ignore
  if (script.stuck !== null) throw new Error(`The actor of "${plan.procedure}": ${script.stuck}`);
  const played = await playCase(wanted, script.lines, loadSpokenLine, onEntry, noiseDb);
  return toRehearsal(played, [
    ...compareCases(unheard.entries, played.session.entries),
    ...(plan.sheet ? listOpenPacks(played.session.view) : []),
  ]);
}

function toRehearsal(played: PlayedCase, differing: readonly string[]): Rehearsal {
  const { session, report, heard, audioMs, tookMs } = played;
  const isRight = report.stoppedAt === null && differing.length === 0;
  return {
    isRight,
    entries: session.entries,
    report,
    summary: {
      ...summarise(session.view, session.entries, report, heard, { audioMs, tookMs, isRight }),
      differing,
    },
  };
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
    ...(view.implants.packs.length > 0 && { implants: summariseImplants(view, entries) }),
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
      pressedAtDesk: report.typed,
      falseActivations: report.falseActivations,
      stoppedAt: report.stoppedAt,
      endOfSpeechToDecisionMs: { median: at(0.5), p95: at(0.95), most: at(1) },
      audioS: Math.round(audioMs / 1000),
      realTimeFactor: Number((tookMs / audioMs).toFixed(3)),
    },
  };
}
