/**
 * A whole operation to look at before anybody runs it: every step with all it asks for,
 * every hold point with what feeds it, every way back, round or past. Made from the
 * compiled procedure that the machine itself is made from, so a drawing can't show
 * anything that the machine does not do. Plain data, no places on a page.
 */
import { asId, listMilestones, ok } from '../domain';
import type {
  AlternativeId, CaptureId, Fault, HoldPointId, Milestone, PhaseId, Result, StepId, TrackId,
} from '../domain'; // prettier-ignore
import { listLegalValues, loadProcedure } from '../procedure';
import type { Alternative, Capture, CompiledProcedure, HoldPoint, Step } from '../procedure';

export interface SketchCondition {
  /** What it asks for, in the words that the wall says once it is met. */
  readonly text: string;
  /** The circumstance in which it is not asked for, in words; null where it always is. */
  readonly unless: string | null;
  /** The step that makes it true; null where no step does. */
  readonly from: StepId | null;
}

export interface SketchHold {
  readonly id: HoldPointId;
  readonly title: string;
  readonly reason: string;
  /** What it stands before: null for the step itself, else the label of a capture. */
  readonly capture: string | null;
  readonly conditions: readonly SketchCondition[];
}

export interface SketchStep {
  readonly id: StepId;
  readonly title: string;
  readonly detail: string;
  readonly cue: string;
  /** The words that begin it, where it does not begin by itself. */
  readonly beginSay: string | null;
  readonly optional: string | null;
  readonly ahead: string | null;
  readonly asks: readonly { readonly label: string; readonly values: string }[];
  readonly checklist: readonly { readonly text: string; readonly by: string }[];
  readonly count: string | null;
  readonly timers: readonly string[];
  readonly times: readonly string[];
  readonly holds: readonly SketchHold[];
  readonly loop: {
    readonly title: string;
    readonly when: string;
    readonly backTo: StepId;
    readonly warnAfter: number | null;
  } | null;
  /** How the rest of its group may be left out from here. */
  readonly exit: { readonly label: string; readonly next: StepId | null } | null;
  readonly next: StepId | null;
}

export interface SketchGroup {
  readonly title: string;
  readonly rounds: number;
  readonly atLeast: number;
  readonly endLabel: string;
  readonly steps: readonly StepId[];
}

export interface SketchAlternative {
  readonly id: AlternativeId;
  readonly label: string;
  readonly why: string;
  readonly at: readonly StepId[];
  /** Where the track goes on; null where it ends. */
  readonly to: StepId | null;
  /** "Back table goes on at Close": what other tracks do. */
  readonly alsoTo: readonly string[];
}

export interface SketchPhase {
  readonly id: PhaseId;
  readonly title: string;
  readonly isQuiet: boolean;
  readonly usualMin: number | null;
  readonly alternative: AlternativeId | null;
  readonly steps: readonly SketchStep[];
}

export interface SketchTrack {
  readonly id: TrackId;
  readonly title: string;
  readonly phases: readonly SketchPhase[];
  readonly groups: readonly SketchGroup[];
  readonly alternatives: readonly SketchAlternative[];
}

export interface ProcedureSketch {
  readonly id: string;
  readonly title: string;
  readonly note: string;
  readonly tracks: readonly SketchTrack[];
  /** Timers that no step starts. */
  readonly otherTimers: readonly string[];
}

/** Sketches unknown data; the fault says why it can't be run. */
export function sketchProcedure(data: unknown): Result<ProcedureSketch, Fault> {
  const compiled = loadProcedure(data);
  return compiled.ok ? ok(sketch(compiled.value)) : compiled;
}

function sketch(compiled: CompiledProcedure): ProcedureSketch {
  const { procedure, outline } = compiled;
  return {
    id: procedure.id,
    title: procedure.title,
    note: procedure.note,
    tracks: procedure.tracks.map((track) => ({
      id: asId(track.id),
      title: track.title,
      phases: outline.phases
        .filter((phase) => phase.track === track.id)
        .map(({ id, title, isQuiet, usualMin, alternative, steps }) => ({
          id,
          title,
          isQuiet,
          usualMin,
          alternative,
          steps: steps.flatMap((step) => {
            const found = compiled.steps.get(step.id);
            return found ? [sketchStep(compiled, found)] : [];
          }),
        })),
      groups: [...track.phases, ...track.alternatives.flatMap(({ phase }) => phase ?? [])].flatMap(
        ({ steps }) => steps.flatMap((entry) => ('repeat' in entry ? [sketchGroup(entry)] : [])),
      ),
      alternatives: [...compiled.alternatives.values()]
        .filter((alternative) => alternative.track === track.id)
        .map((alternative) => sketchAlternative(compiled, alternative)),
    })),
    otherTimers: procedure.timers
      .filter((timer) => stepOfEvent(compiled, timer.starts) === null)
      .map(({ label, dueMin }) => `${label}, due after ${dueMin} min`),
  };
}

type Entry = CompiledProcedure['procedure']['tracks'][number]['phases'][number]['steps'][number];

function sketchGroup({ repeat }: Extract<Entry, { repeat: unknown }>): SketchGroup {
  const { title, items, atLeast, endLabel, steps } = repeat;
  return {
    title,
    rounds: items.length,
    atLeast,
    endLabel,
    steps: items.flatMap((item) =>
      steps.map(({ id }) => asId<StepId>(id.replaceAll('{item}', item))),
    ),
  };
}

function sketchAlternative(
  { steps, outline }: CompiledProcedure,
  { id, label, why, at, to, alsoTo }: Alternative,
): SketchAlternative {
  return {
    id,
    label,
    why,
    at,
    to,
    alsoTo: alsoTo.flatMap((other) => {
      const step = steps.get(other);
      const track = outline.tracks.find((candidate) => candidate.id === step?.track);
      return step && track ? [`${track.title} goes on at “${step.title}”`] : [];
    }),
  };
}

function sketchStep(compiled: CompiledProcedure, step: Step): SketchStep {
  const { captures, procedure } = compiled;
  const roleOf = (id: string) => procedure.roles.find((role) => role.id === id)?.title ?? id;
  return {
    id: step.id,
    title: step.title,
    detail: fillNames(compiled, step.detail),
    cue: fillNames(compiled, step.cue),
    beginSay: step.begins === 'said' ? step.say : null,
    optional: step.optional?.label ?? null,
    ahead: step.ahead?.label ?? null,
    asks: step.captures.flatMap((id) => {
      const capture = captures.get(id);
      return capture ? [{ label: capture.label, values: valuesOf(capture) }] : [];
    }),
    checklist: step.checklist.map(({ text, by }) => ({ text, by: roleOf(by) })),
    count: procedure.counts.find(({ id }) => id === (step.count as string | null))?.title ?? null,
    timers: timersOf(compiled, step.id),
    times: timesOf(step),
    holds: holdsOf(compiled, step),
    loop: step.loop && {
      title: step.loop.title,
      when: whenOf(compiled, step.loop.capture, step.loop.is),
      backTo: step.loop.backTo,
      warnAfter: step.loop.warnAfter,
    },
    exit:
      step.exit && step.exit.itemsDone >= step.exit.atLeast
        ? { label: step.exit.endLabel, next: step.exit.next }
        : null,
    next: step.next,
  };
}

/** Names what a text will show once it is known: "Post drill [Depth]". */
function fillNames({ captures, procedure }: CompiledProcedure, text: string): string {
  return text.replace(/\{([a-z0-9-]+)\}/g, (whole, id: string) => {
    const label =
      captures.get(asId(id))?.label ?? procedure.derived.find((other) => other.id === id)?.label;
    return label === undefined ? whole : `[${label}]`;
  });
}

/** "16 mm, 20 mm, 24 mm"; from and to where the list is long. */
function valuesOf(capture: Capture): string {
  const texts = listLegalValues(capture).map(({ text }) => text);
  switch (capture.kind) {
    case 'report':
      return 'report';
    case 'note':
      return 'a note, typed';
    case 'label':
      return 'a label, scanned or typed';
    case 'clock':
      return 'a direction on the clock face';
    case 'number':
    case 'quantity':
    case 'choice':
    case 'yes-no':
      return texts.length > 6 ? `${texts[0] ?? ''} to ${texts.at(-1) ?? ''}` : texts.join(', ');
  }
}

function whenOf({ captures }: CompiledProcedure, id: CaptureId, value: string | number): string {
  const capture = captures.get(id);
  if (!capture) return String(value);
  const text = listLegalValues(capture).find((legal) => legal.value === value)?.text;
  return `${capture.label} is ${text ?? String(value)}`;
}

type TimerEvent = CompiledProcedure['procedure']['timers'][number]['starts'];

/** The step in or after which something happens that timers know. */
function stepOfEvent({ steps }: CompiledProcedure, event: TimerEvent): StepId | null {
  if (!event) return null;
  const all = [...steps.values()];
  switch (event.type) {
    case 'begun':
    case 'finished':
      return asId<StepId>(event.step);
    case 'confirmed':
      return all.find(({ captures }) => captures.includes(asId(event.capture)))?.id ?? null;
    case 'named-time':
      return (
        all.find(({ begunMarks, finishedMarks }) =>
          [begunMarks, finishedMarks].includes(event.milestone),
        )?.id ?? null
      );
  }
}

function timersOf(compiled: CompiledProcedure, step: StepId): readonly string[] {
  return compiled.procedure.timers.flatMap(({ label, dueMin, starts, stops }) => [
    ...(stepOfEvent(compiled, starts) === step
      ? [`Starts: ${label}, due after ${dueMin} min`]
      : []),
    ...(stepOfEvent(compiled, stops) === step ? [`Stops: ${label}`] : []),
  ]);
}

function timesOf({ begunMarks, finishedMarks }: Step): readonly string[] {
  const nameOf = (code: Milestone) =>
    listMilestones().find((milestone) => milestone.code === code)?.name ?? code;
  return [
    ...(begunMarks ? [`Its beginning is: ${nameOf(begunMarks)}`] : []),
    ...(finishedMarks ? [`Its end is: ${nameOf(finishedMarks)}`] : []),
  ];
}

function holdsOf(compiled: CompiledProcedure, step: Step): readonly SketchHold[] {
  const own = compiled.holdPointOfStep.get(step.id);
  return [
    ...(own ? [sketchHold(compiled, own, null)] : []),
    ...step.captures.flatMap((id) => {
      const point = compiled.holdPointOfCapture.get(id);
      return point ? [sketchHold(compiled, point, compiled.captures.get(id)?.label ?? id)] : [];
    }),
  ];
}

function sketchHold(
  compiled: CompiledProcedure,
  { id, title, reason, needs }: HoldPoint,
  capture: string | null,
): SketchHold {
  return {
    id,
    title,
    reason,
    capture,
    conditions: needs.map((need) => ({
      text: fillNames(compiled, need.met),
      unless: need.unless ? unlessToText(compiled, need.unless) : null,
      from: feederOf(compiled, need),
    })),
  };
}

type Need = HoldPoint['needs'][number];

function unlessToText(compiled: CompiledProcedure, unless: NonNullable<Need['unless']>): string {
  switch (unless.type) {
    case 'chosen':
      return `“${compiled.alternatives.get(asId(unless.alternative))?.label ?? unless.alternative}” was chosen`;
    case 'is':
      return whenOf(compiled, asId(unless.capture), unless.value);
    case 'skipped':
      return `“${compiled.steps.get(asId(unless.step))?.title ?? unless.step}” was left out`;
  }
}

function feederOf(compiled: CompiledProcedure, need: Need): StepId | null {
  const { steps, procedure } = compiled;
  const takes = (capture: string) =>
    [...steps.values()].find(({ captures }) => captures.includes(asId(capture)))?.id ?? null;
  switch (need.type) {
    case 'confirmed':
    case 'is':
      return takes(need.capture);
    case 'same':
      return takes(need.as);
    case 'finished':
      return asId<StepId>(need.step);
    case 'agrees':
      return [...steps.values()].find(({ count }) => count === need.count)?.id ?? null;
    case 'reconciled':
      // Packs are scanned whenever they come; no step feeds this.
      return null;
    case 'running':
      return stepOfEvent(compiled, procedure.timers.find(({ id }) => id === need.timer)?.starts);
  }
}
