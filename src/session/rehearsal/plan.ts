/**
 * Plans of spoken cases: for each built-in procedure the values that its people mean
 * and the scenes that they play. Data; the actor (actor.ts) finds all other words in
 * the running case itself. All invented.
 */
import type { AnglePlan, CaptureValue, Side } from '../../domain';

/** Something out of the ordinary, once, while a step is in hand. */
export type Scene = { readonly at: string } & (
  | { readonly say: string }
  /** Said without the address phrase; must do nothing. */
  | { readonly talk: string }
  /** The words of a step whose turn has not come; must be refused. */
  | { readonly early: string }
  /** Another value is said first and corrected in the read-back. */
  | { readonly wrong: string; readonly value: CaptureValue }
  /** The value of the first time; the plan's own is meant after the loop. */
  | { readonly first: string; readonly value: CaptureValue }
  /** A settled value is changed; what relied on it is said again. */
  | { readonly change: string; readonly to: CaptureValue }
  | { readonly choose: string }
  | { readonly leaveOut: true }
  | { readonly waitMin: number }
  /** A pack that must be found clear: it is scanned, opened and implanted. */
  | { readonly scan: PackInHand }
  /** A pack that must be caught by this code; opening it must be refused. */
  | { readonly catch: PackInHand; readonly as: string }
);

/** A pack that somebody in the room holds before the scanner. */
export interface PackInHand {
  readonly article: string;
  readonly serial: string;
  /** In how many years it expires; below 0 it has expired. Two where left out. */
  readonly years?: number;
}

export interface RehearsalPlan {
  readonly procedure: string;
  readonly side: Side;
  /** What is meant, by capture; elsewhere the actor takes the middle one that goes. */
  readonly values: Readonly<Record<string, CaptureValue>>;
  /** How many items of a group are done. */
  readonly rounds: Readonly<Record<string, number>>;
  readonly scenes: readonly Scene[];
  /** The sizes planned beforehand; none where left out. */
  readonly planned?: Readonly<Record<string, CaptureValue>>;
  /** The planning sheet, typed before anything is said. */
  readonly sheet?: AnglePlan;
}

const TALK = 'could we have the light a little lower please';

const GLENOID: RehearsalPlan = {
  procedure: 'reverse-shoulder-glenoid',
  side: 'right',
  values: { wedge: 16, direction: 630, depth: 24, plate: 'small', post: 24, sphere: 40 },
  rounds: { screw: 2 },
  scenes: [
    { at: 'clear-cartilage', talk: TALK },
    { at: 'size-wedge', wrong: 'wedge', value: 24 },
    { at: 'try-seat', first: 'seating', value: 'rocks' },
    { at: 'measure-depth', early: 'insert-baseplate' },
    { at: 'drill-post', change: 'depth', to: 28 },
  ],
};

const SHOULDER: RehearsalPlan = {
  procedure: 'reverse-shoulder',
  side: 'right',
  values: {
    ...GLENOID.values,
    seating: 'even',
    'screw-1-kind': 'locking',
    'screw-1-length': 30,
    'screw-2-kind': 'non-locking',
    'screw-2-length': 26,
    stability: 'stable',
  },
  rounds: { screw: 2 },
  scenes: [
    { at: 'place-block', leaveOut: true },
    { at: 'drape', early: 'incise' },
    { at: 'open-interval', talk: TALK },
    { at: 'size-wedge', wrong: 'wedge', value: 24 },
    { at: 'ream', say: 'image taken' },
    { at: 'try-seat', first: 'seating', value: 'rocks' },
    { at: 'measure-depth', early: 'insert-baseplate' },
    { at: 'drill-post', change: 'depth', to: 28 },
    { at: 'try-joint', first: 'stability', value: 'unstable' },
    { at: 'settle-drain', waitMin: 240 },
    { at: 'count-closure', say: 'swab count differs' },
  ],
};

const WRIST: RehearsalPlan = {
  procedure: 'wrist-plate',
  side: 'left',
  values: {
    reduction: 'held',
    breadth: 'medium',
    'plate-opened': 'medium',
    'plate-side': 'left',
    'shaft-size': 3.4,
    'sleeve-fitted': 2.5,
    'shaft-length': 15,
    'hole-1-length': 18,
    'hole-2-length': 21,
    'hole-3-length': 21,
    'hole-3-kind': 'non-locking',
    'shaft-1-length': 12,
    stable: 'yes',
  },
  rounds: { hole: 3, shaft: 1 },
  scenes: [
    { at: 'prep-drape', early: 'incise' },
    { at: 'incise', say: 'cuff inflated' },
    { at: 'expose', talk: TALK },
    { at: 'check-reduction', say: 'image taken' },
    { at: 'check-reduction', first: 'reduction', value: 'lost' },
    { at: 'choose-breadth', wrong: 'breadth', value: 'broad' },
    { at: 'seat-shaft', change: 'shaft-size', to: 2.6 },
    { at: 'check-plate', say: 'image taken' },
    { at: 'hole-2-measure', wrong: 'hole-2-length', value: 27 },
    { at: 'aim-joint', choose: 'fill-gap' },
    { at: 'wires-out', waitMin: 60 },
    { at: 'count-closing', say: 'swab count differs' },
    { at: 'local', leaveOut: true },
  ],
};

const HIP: RehearsalPlan = {
  procedure: 'cemented-hip',
  side: 'left',
  values: {
    reamer: 52,
    'socket-fit': 'grips',
    cup: 54,
    liner: 32,
    'cup-1-length': 24,
    broach: 3,
    'broach-fit': 'stable',
    stem: 3,
    'trial-neck': 'medium',
    'trial-joint': 'stable',
    'leg-length': 4,
    plug: 14,
    'stem-taper': 12,
    head: 32,
    'head-taper': 12,
    'head-neck': 'medium',
    'blood-loss': 400,
  },
  rounds: { 'cup-screw': 1 },
  scenes: [
    { at: 'expose', talk: TALK },
    { at: 'try-cup', first: 'socket-fit', value: 'loose' },
    { at: 'choose-cup', wrong: 'cup', value: 56 },
    { at: 'choose-liner', early: 'place-liner' },
    { at: 'try-joint', first: 'trial-joint', value: 'unstable' },
    { at: 'take-trials', change: 'stem', to: 2 },
    { at: 'clean-canal', early: 'place-stem' },
    { at: 'hold-stem', waitMin: 4 },
    { at: 'image', leaveOut: true },
    { at: 'count-closing', say: 'sharps count differs' },
  ],
};

/** The plans of spoken cases, by procedure. */
export const REHEARSAL_PLANS: readonly RehearsalPlan[] = [GLENOID, SHOULDER, WRIST, HIP];
