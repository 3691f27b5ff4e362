/**
 * An operation as a list of blocks for each track, from top to bottom: a heading for
 * each phase, a bar for each hold point before the step that it guards, the steps with
 * what belongs to them. Texts are broken to the width; places come later. Pure.
 */
import type { AlternativeId, HoldPointId, StepId } from '../../domain';
import type {
  SketchAlternative, SketchHold, SketchPhase, SketchStep, SketchTrack,
} from '../../session'; // prettier-ignore
import {
  BRANCH_INDENT, SIGN_INDENT, SMALL_LINE, SMALL_PX, TEXT_INDENT, TITLE_LINE, TITLE_PX, wrap,
} from './drawing-measures'; // prettier-ignore

/** What a small line is about; each has a sign of its own. */
export type LineSign =
  | 'cue' | 'ask' | 'words' | 'check' | 'count' | 'timer' | 'time' | 'back' | 'past' | 'none'; // prettier-ignore

export interface SmallLine {
  readonly sign: LineSign;
  readonly text: string;
}

export interface ConditionLine {
  readonly lines: readonly string[];
  readonly from: StepId | null;
}

interface BlockBase {
  readonly height: number;
  /** The other way that it belongs to; null on the main line. */
  readonly branch: AlternativeId | null;
}

export type Block =
  | (BlockBase & {
      readonly kind: 'phase';
      readonly key: string;
      readonly title: string;
      readonly marks: string;
      readonly isQuiet: boolean;
    })
  | (BlockBase & {
      readonly kind: 'way';
      readonly key: string;
      readonly alternative: SketchAlternative;
      readonly title: readonly string[];
      readonly small: readonly string[];
    })
  | (BlockBase & {
      readonly kind: 'group';
      readonly key: string;
      readonly title: readonly string[];
      readonly steps: readonly StepId[];
    })
  | (BlockBase & {
      readonly kind: 'hold';
      readonly key: string;
      readonly id: HoldPointId;
      readonly title: readonly string[];
      readonly conditions: readonly ConditionLine[];
      readonly step: StepId;
    })
  | (BlockBase & {
      readonly kind: 'step';
      readonly key: string;
      readonly step: SketchStep;
      readonly title: readonly string[];
      readonly small: readonly SmallLine[];
    })
  | (BlockBase & { readonly kind: 'end'; readonly key: string });

export type BlockOf<Kind extends Block['kind']> = Extract<Block, { kind: Kind }>;

/** Space above a heading, below a step, around a bar. */
const PHASE_GAP = 22;
const STEP_GAP = 14;
export const HOLD_TOP = 14;
const HOLD_GAP = 12;

/** The blocks of a track; `textWidth` is the room for words on its main line. */
export function listBlocks(track: SketchTrack, textWidth: number): readonly Block[] {
  const shown = new Set<AlternativeId>();
  const blocks = track.phases.flatMap((phase) => {
    const width = textWidth - (phase.alternative === null ? 0 : BRANCH_INDENT);
    const way = track.alternatives.find(({ id }) => id === phase.alternative);
    if (way) shown.add(way.id);
    return [
      ...(way ? [wayBlock(way, track, textWidth)] : []),
      phaseBlock(phase),
      ...phase.steps.flatMap((step) => [
        ...groupBlocks(track, phase, step, width),
        ...stepBlocks(phase, step, width),
        // Another way without steps of its own stands after the last step at which it can be chosen.
        ...track.alternatives
          .filter(({ id, at }) => !hasPhase(track, id) && at.at(-1) === step.id)
          .map((alternative) => wayBlock(alternative, track, textWidth)),
      ]),
    ];
  });
  return [...blocks, { kind: 'end', key: `${track.id}/end`, height: 34, branch: null }];
}

function hasPhase({ phases }: SketchTrack, id: AlternativeId): boolean {
  return phases.some(({ alternative }) => alternative === id);
}

function phaseBlock({ id, title, isQuiet, usualMin, alternative }: SketchPhase): Block {
  const marks = [
    ...(usualMin === null ? [] : [`usually ${usualMin} min`]),
    ...(isQuiet ? ['quiet'] : []),
  ].join(' · ');
  const height = PHASE_GAP + 28;
  return { kind: 'phase', key: `phase/${id}`, title, marks, isQuiet, height, branch: alternative };
}

function wayBlock(alternative: SketchAlternative, track: SketchTrack, textWidth: number): Block {
  const steps = track.phases.flatMap((phase) => phase.steps);
  const titleOf = (id: StepId) => steps.find((step) => step.id === id)?.title ?? id;
  const width = textWidth - BRANCH_INDENT;
  const { label, why, to, alsoTo, at } = alternative;
  const [first, last] = [at[0], at.at(-1)];
  const where =
    first === undefined || last === undefined
      ? []
      : first === last
        ? [`Can be chosen at “${titleOf(first)}”`]
        : [`Can be chosen from “${titleOf(first)}” to “${titleOf(last)}”`];
  const goes = hasPhase(track, alternative.id)
    ? []
    : [to === null ? 'Ends this track' : `Goes on at “${titleOf(to)}”`];
  const title = wrap(`Another way: ${label}`, width, TITLE_PX);
  const small = [why, ...where, ...goes, ...alsoTo].flatMap((text) => wrap(text, width, SMALL_PX));
  return {
    kind: 'way',
    key: `way/${alternative.id}`,
    alternative,
    title,
    small,
    branch: alternative.id,
    height: 18 + title.length * TITLE_LINE + small.length * SMALL_LINE + STEP_GAP,
  };
}

function groupBlocks(
  track: SketchTrack,
  phase: SketchPhase,
  step: SketchStep,
  width: number,
): readonly Block[] {
  const group = track.groups.find(({ steps }) => steps[0] === step.id);
  if (!group) return [];
  const rest =
    group.atLeast < group.rounds ? `; from ${group.atLeast} on: “${group.endLabel}”` : '';
  const title = wrap(`${group.title}: up to ${group.rounds} rounds${rest}`, width, SMALL_PX);
  return [
    {
      kind: 'group',
      key: `group/${step.id}`,
      title,
      steps: group.steps,
      branch: phase.alternative,
      height: 10 + title.length * SMALL_LINE + 8,
    },
  ];
}

function stepBlocks(phase: SketchPhase, step: SketchStep, width: number): readonly Block[] {
  const title = wrap(step.title, width, TITLE_PX);
  const small = smallLines(step).flatMap(({ sign, text }) =>
    wrap(text, width - SIGN_INDENT, SMALL_PX).map((line, index): SmallLine => ({
      sign: index === 0 ? sign : 'none',
      text: line,
    })),
  );
  return [
    ...step.holds.map((hold) => holdBlock(phase, step, hold, width)),
    {
      kind: 'step',
      key: `step/${step.id}`,
      step,
      title,
      small,
      branch: phase.alternative,
      height: title.length * TITLE_LINE + small.length * SMALL_LINE + STEP_GAP,
    },
  ];
}

function holdBlock(
  phase: SketchPhase,
  step: SketchStep,
  { id, title, capture, conditions }: SketchHold,
  width: number,
): Block {
  const heading = wrap(
    `Hold point${capture === null ? '' : ` before ${capture}`}: ${title}`,
    width,
    SMALL_PX,
  );
  const lines = conditions.map(({ text, unless, from }): ConditionLine => ({
    from,
    lines: wrap(
      unless === null ? text : `${text} (not asked where ${unless})`,
      width - SIGN_INDENT,
      SMALL_PX,
    ),
  }));
  const count = heading.length + lines.reduce((sum, line) => sum + line.lines.length, 0);
  return {
    kind: 'hold',
    key: `hold/${id}`,
    id,
    title: heading,
    conditions: lines,
    step: step.id,
    branch: phase.alternative,
    height: HOLD_TOP + count * SMALL_LINE + HOLD_GAP,
  };
}

function smallLines(step: SketchStep): readonly SmallLine[] {
  const line = (sign: LineSign, text: string | null): readonly SmallLine[] =>
    text === null ? [] : [{ sign, text }];
  const { checklist, loop } = step;
  return [
    ...line('cue', step.cue),
    ...line('words', step.beginSay && `begins at “${step.beginSay}”`),
    ...step.asks.map(({ label, values }): SmallLine => ({
      sign: 'ask',
      text: values === 'report' ? label : `${label}: ${values}`,
    })),
    ...line(
      'check',
      checklist.length === 0
        ? null
        : `Checklist of ${checklist.length}: ${checklist.map(({ text }) => text).join(' · ')}`,
    ),
    ...line('count', step.count),
    ...step.timers.map((text): SmallLine => ({ sign: 'timer', text })),
    ...step.times.map((text): SmallLine => ({ sign: 'time', text })),
    ...line('past', step.optional && `Optional: “${step.optional}”`),
    ...line('past', step.ahead && `May be done ahead: “${step.ahead}”`),
    ...line(
      'back',
      loop &&
        `${loop.title}, where ${loop.when}${loop.warnAfter === null ? '' : `; counted from round ${loop.warnAfter}`}`,
    ),
  ];
}

/** The room beside a line's text that its blocks need. */
export const textLeft = (lineX: number, branch: AlternativeId | null): number =>
  lineX + TEXT_INDENT + (branch === null ? 0 : BRANCH_INDENT);
