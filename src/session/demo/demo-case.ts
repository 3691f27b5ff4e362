/**
 * One invented case, played from its opening to its close: whose turn it is, what a track
 * does then, and what of the team's habits happens in this case. The mode is "demo" from
 * the first entry on.
 */
import type {
  AlternativeId,
  CaseId,
  CaseSetup,
  Entry,
  PhaseId,
  StepId,
  TrackId,
} from '../../domain';
import type { CompiledProcedure, HoldPoint, Step } from '../../procedure';
import type { Random } from '../../review';
import {
  checkAndCount, closedPointOf, fetchPacks, isCheckedByEye, passByHand,
} from './demo-desk'; // prettier-ignore
import { DemoPace } from './demo-pace';
import { settleSize } from './demo-sizes';
import { DemoWall } from './demo-wall';
import type { DemoShift, Habits } from './habits';

const MINUTE_MS = 60_000;
/** More than any case needs; a procedure that an invented team can't finish ends as abandoned. */
const MOST_MOVES = 800;
/** After so many moves a case is given up, where it is. */
const ABANDONED_AFTER = 30;

export interface DemoPlan {
  readonly caseId: CaseId;
  readonly setup: CaseSetup;
  readonly startAt: number;
  /** Place among the team's cases, from 0. */
  readonly place: number;
  readonly shift: DemoShift | null;
  readonly habits: Habits;
}

/** Plays one case; gives its entries. */
export function playDemoCase(
  compiled: CompiledProcedure,
  plan: DemoPlan,
  random: Random,
): readonly Entry[] {
  return new DemoCase(compiled, plan, random).play();
}

class DemoCase {
  readonly #wall: DemoWall;
  readonly #pace: DemoPace;
  readonly #dueMs = new Map<TrackId, number>();
  /** The phase that this case leaves out, the step at which it holds its clock, the other way that it goes. */
  readonly #missing: PhaseId | null;
  #holdAt: StepId | null;
  readonly #otherWay: AlternativeId | null;
  /** Hold points that somebody has thought of passing. */
  readonly #considered = new Set<HoldPoint>();

  constructor(
    private readonly compiled: CompiledProcedure,
    private readonly plan: DemoPlan,
    private readonly random: Random,
  ) {
    const { caseId, startAt, place, shift, habits } = plan;
    const [main] = compiled.tracks;
    const phases = compiled.outline.phases.filter(({ track, alternative }) => track === main && alternative === null); // prettier-ignore
    this.#wall = new DemoWall(compiled, caseId, startAt);
    this.#pace = new DemoPace(compiled, place, shift, habits, random);
    this.#missing = this.#oneOf(habits.missingChance, phases.slice(2))?.id ?? null;
    this.#holdAt = this.#oneOf(habits.holdChance, phases.flatMap(({ steps }) => steps))?.id ?? null; // prettier-ignore
    this.#otherWay = this.#oneOf(habits.alternativeChance, compiled.outline.alternatives)?.id ?? null; // prettier-ignore
  }

  play(): readonly Entry[] {
    const wall = this.#wall;
    wall.open(this.plan.setup);
    if (!this.#marksItself()) wall.mark('PIR');
    for (const track of this.compiled.tracks) this.#dueMs.set(track, this.#durationOf(track));
    const stopAt = this.#happens(this.plan.habits.abandonedChance) ? ABANDONED_AFTER : MOST_MOVES;
    let moves = 0;
    while (moves < stopAt && this.#move()) moves += 1;
    const isDone = this.compiled.tracks.every((track) => wall.positionOf(track).kind === 'done');
    if (isDone) wall.mark('PF');
    wall.ms += (4 + 6 * this.random.uniform()) * MINUTE_MS;
    wall.mark('POR');
    wall.order({ type: 'case.close', outcome: isDone ? 'finished' : 'abandoned' }, 'desk');
    return wall.entries;
  }

  /** Whether a step of the procedure says when the patient came in. */
  #marksItself(): boolean {
    return [...this.compiled.steps.values()].some(
      ({ begunMarks, finishedMarks }) => begunMarks === 'PIR' || finishedMarks === 'PIR',
    );
  }

  /** The next thing that happens; false when all tracks are done or stuck for good. */
  #move(): boolean {
    const wall = this.#wall;
    const open = this.compiled.tracks.filter((track) => wall.positionOf(track).kind !== 'done');
    const [next] = open.toSorted((a, b) => this.#due(a) - this.#due(b));
    if (next === undefined) return false;
    if (this.#due(next) === Infinity) return this.#getUnstuck(open);
    wall.ms = Math.max(wall.ms, this.#due(next));
    const before = wall.log.count;
    this.#act(next);
    if (wall.log.count === before) this.#dueMs.set(next, Infinity);
    else this.#wake(open, next);
    return true;
  }

  /** What one track did may have opened the way of another. */
  #wake(open: readonly TrackId[], moved: TrackId): void {
    this.#dueMs.set(moved, this.#wall.ms + this.#durationOf(moved));
    for (const track of open)
      if (this.#due(track) === Infinity)
        this.#dueMs.set(track, this.#wall.ms + this.#durationOf(track));
  }

  /** Every track waits: packs that are still to be scanned are fetched, else a hold point is passed by hand. */
  #getUnstuck(open: readonly TrackId[]): boolean {
    const wall = this.#wall;
    if (fetchPacks(wall, this.random)) {
      for (const track of open) this.#dueMs.set(track, wall.ms);
      return true;
    }
    return open.some((track) => {
      const point = closedPointOf(wall, track);
      if (!point || !passByHand(wall, point)) return false;
      this.#dueMs.set(track, wall.ms);
      return true;
    });
  }

  #act(track: TrackId): void {
    const position = this.#wall.positionOf(track);
    if (position.kind === 'done') return;
    const { step } = position;
    if (this.#leavesOut(track, step) || this.#goesAnotherWay(step)) return;
    if (position.kind === 'waiting') {
      this.#considerPassing(track);
      this.#wall.order({ type: 'step.begin', step: step.id }, 'voice');
    } else if (!this.#endsGroup(step)) this.#doStep(track, step);
  }

  #doStep(track: TrackId, step: Step): void {
    const wall = this.#wall;
    if (step.id === this.#holdAt) this.#holdClock();
    const speaker = {
      wall,
      random: this.random,
      habits: this.plan.habits,
      plan: this.plan.setup.plan,
    };
    for (const id of step.captures) {
      const capture = this.compiled.captures.get(id);
      if (capture && wall.isDoing(track, step)) settleSize(speaker, capture, step);
    }
    if (!wall.isDoing(track, step)) return;
    checkAndCount(wall, step);
    if (!wall.order({ type: 'step.finish', track }, 'voice'))
      wall.order({ type: 'step.skip', track, reason: 'Left out in the demo' }, 'desk');
  }

  #leavesOut(track: TrackId, step: Step): boolean {
    const reason = 'Not needed today';
    return (
      step.phase === this.#missing && this.#wall.order({ type: 'step.skip', track, reason }, 'desk')
    );
  }

  #goesAnotherWay(step: Step): boolean {
    const way =
      this.#otherWay === null ? undefined : this.compiled.alternatives.get(this.#otherWay);
    return (
      way?.at.includes(step.id) === true &&
      this.#wall.order({ type: 'alternative.choose', alternative: way.id }, 'voice')
    );
  }

  #endsGroup({ exit }: Step): boolean {
    return (
      exit !== null &&
      this.#happens(this.plan.habits.endGroupChance) &&
      this.#wall.order({ type: 'group.finish', group: exit.group }, 'voice')
    );
  }

  /** Once at each hold point that keeps a track. */
  #considerPassing(track: TrackId): void {
    const point = closedPointOf(this.#wall, track);
    if (!point || this.#considered.has(point) || !isCheckedByEye(point)) return;
    this.#considered.add(point);
    if (this.#happens(this.plan.habits.overrideChance)) passByHand(this.#wall, point);
  }

  /** Once in a case, however often it comes by. */
  #holdClock(): void {
    this.#holdAt = null;
    const reasons = this.compiled.procedure.holdReasons;
    const reason = reasons[this.random.below(reasons.length)];
    if (!reason || !this.#wall.order({ type: 'clock.hold', reason: reason.id }, 'voice')) return;
    this.#wall.ms += 2 * MINUTE_MS * Math.exp(0.6 * this.random.normal());
    this.#wall.order({ type: 'clock.resume' }, 'voice');
  }

  #durationOf(track: TrackId): number {
    return this.#pace.durationAt(track, this.#wall.positionOf(track));
  }

  #due(track: TrackId): number {
    return this.#dueMs.get(track) ?? Infinity;
  }

  #happens(chance: number): boolean {
    return this.random.uniform() < chance;
  }

  /** With this chance one of them, each as likely as the others. */
  #oneOf<T>(chance: number, all: readonly T[]): T | undefined {
    return this.#happens(chance) ? all[this.random.below(all.length)] : undefined;
  }
}
