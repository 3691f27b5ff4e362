/** The same operation in words, one row a step, for those who read a table or paper. Pure. */
import type { StepId } from '../../domain';
import type { ProcedureSketch, SketchHold, SketchStep, SketchTrack } from '../../session';

export interface TableRow {
  readonly key: StepId;
  readonly place: number;
  readonly phase: string;
  readonly step: string;
  readonly handOver: string;
  /** What is confirmed, answered, counted and timed. */
  readonly asks: readonly string[];
  /** What must be true before it begins. */
  readonly held: readonly string[];
  /** How it may be begun, left out, done ahead, and where it leads other than on. */
  readonly ways: readonly string[];
}

/** The rows of a track. */
export function listRows(sketch: ProcedureSketch, track: SketchTrack): readonly TableRow[] {
  const all = sketch.tracks.flatMap(({ phases }) => phases.flatMap(({ steps }) => steps));
  const titleOf = (id: StepId | null) =>
    id === null ? 'the end of the track' : `“${all.find((step) => step.id === id)?.title ?? id}”`;
  const rows = track.phases.flatMap((phase) => {
    const way = track.alternatives.find(({ id }) => id === phase.alternative);
    const title = way ? `${phase.title} (another way: ${way.label})` : phase.title;
    return phase.steps.map((step) => ({ phase: phase.isQuiet ? `${title}, quiet` : title, step }));
  });
  return rows.map(({ phase, step }, index) => ({
    key: step.id,
    place: index + 1,
    phase,
    step: step.title,
    handOver: step.cue,
    asks: asksOf(step),
    held: step.holds.flatMap((hold) => heldOf(hold, titleOf)),
    ways: waysOf(track, step, titleOf),
  }));
}

function asksOf({ asks, checklist, count, timers, times }: SketchStep): readonly string[] {
  return [
    ...asks.map(({ label, values }) => `Confirm ${label}: ${values}`),
    ...checklist.map(({ text, by }) => `${by} answers: ${text}`),
    ...(count === null ? [] : [`Count: ${count}`]),
    ...timers,
    ...times,
  ];
}

function heldOf(
  { title, capture, reason, conditions }: SketchHold,
  titleOf: (id: StepId | null) => string,
): readonly string[] {
  const before = capture === null ? title : `${title}, before ${capture}`;
  return [
    `${before}: ${reason}`,
    ...conditions.map(
      ({ text, unless, from }) =>
        `Asks for: ${text}${from === null ? '' : `, from ${titleOf(from)}`}${unless === null ? '' : `; not asked where ${unless}`}`,
    ),
  ];
}

function waysOf(
  { alternatives }: SketchTrack,
  { id, beginSay, optional, ahead, loop, exit }: SketchStep,
  titleOf: (id: StepId | null) => string,
): readonly string[] {
  return [
    ...(beginSay === null ? [] : [`Begins at the words “${beginSay}”`]),
    ...(optional === null ? [] : [`Optional: “${optional}”`]),
    ...(ahead === null ? [] : [`May be done ahead: “${ahead}”`]),
    ...(loop ? [`${loop.title}: back to ${titleOf(loop.backTo)} where ${loop.when}`] : []),
    ...(exit ? [`“${exit.label}” leads to ${titleOf(exit.next)}`] : []),
    ...alternatives
      .filter(({ at }) => at.includes(id))
      .map(({ label, to, alsoTo }) => [`Another way, “${label}”: to ${titleOf(to)}`, ...alsoTo].join('; ')),
  ]; // prettier-ignore
}
