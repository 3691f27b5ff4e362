/** How long the steps of one invented case take: the pace of the case, then of each phase, then of each step. */
import type { TrackId } from '../../domain';
import type { CompiledProcedure, Position } from '../../procedure';
import type { Random } from '../../review';
import { phaseFactor, stepMinutes } from './habits';
import type { DemoShift, Habits } from './habits';

const MINUTE_MS = 60_000;
/** Between two steps, until somebody says so. */
const BETWEEN_MS = 2000;
/** Of a phase whose procedure names no usual time. */
const UNKNOWN_MIN = 5;

export class DemoPace {
  readonly #factors = new Map<string, number>();
  readonly #pace: number;

  constructor(
    private readonly compiled: CompiledProcedure,
    private readonly place: number,
    private readonly shift: DemoShift | null,
    private readonly habits: Habits,
    private readonly random: Random,
  ) {
    this.#pace = habits.paceSigma * random.normal();
  }

  /** Milliseconds until a track has done what it stands at. */
  durationAt(track: TrackId, position: Position): number {
    if (position.kind !== 'doing') return BETWEEN_MS;
    const { phase: id } = position.step;
    const phase = this.compiled.outline.phases.find((it) => it.id === id && it.track === track);
    const minutes = stepMinutes(
      phase?.usualMin ?? UNKNOWN_MIN,
      phase?.steps.length ?? 1,
      this.#factorOf(track, id),
      this.habits.stepSigma,
      this.random,
    );
    return minutes * MINUTE_MS;
  }

  /** The same for a phase however often a loop brings the case back to it. */
  #factorOf(track: TrackId, phase: string): number {
    const key = `${track}/${phase}`;
    const known = this.#factors.get(key);
    if (known !== undefined) return known;
    const { place, shift, habits, random } = this;
    const factor = phaseFactor(phase, place, this.#pace, shift, habits, random);
    this.#factors.set(key, factor);
    return factor;
  }
}
