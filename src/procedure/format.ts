/**
 * The procedure format, version 1: what a team writes to describe an operation.
 * One valibot schema checks the files; the types follow from it. Meaning across
 * the file (ids that must exist, values that must agree) is checked in check.ts.
 * Texts may hold `{item}` inside a repeat and `{capture-id}` for a captured value.
 */
import * as v from 'valibot';

const Id = v.pipe(
  v.string(),
  v.regex(/^[a-z0-9]+(?:-(?:[a-z0-9]+|\{item\}))*$/, 'expected lower-case words joined by hyphens'),
  // Ids are keys of plain objects.
  v.check((id) => !(id in {}), 'a word that means something to the machine itself can’t be an id'),
);
const Text = (max: number) => v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(max));
/** Spoken words: lower case, letters, apostrophes and spaces. */
const Spoken = v.pipe(
  v.string(),
  v.regex(/^(?:[a-z']+|\{item\})(?: (?:[a-z']+|\{item\}))*$/, 'expected lower-case words'),
  v.maxLength(48),
);

/** What a confirmed read-back can hold. */
const Capture = v.variant('kind', [
  v.strictObject({
    kind: v.literal('number'),
    id: Id,
    label: Text(20),
    row: v.optional(Text(10)),
    say: Spoken,
    unit: v.picklist(['mm', 'deg', 'none']),
    values: v.pipe(
      v.array(v.pipe(v.number(), v.finite(), v.minValue(0), v.maxValue(999))),
      v.minLength(1),
    ),
  }),
  v.strictObject({
    kind: v.literal('choice'),
    id: Id,
    label: Text(20),
    row: v.optional(Text(10)),
    say: Spoken,
    options: v.pipe(
      v.array(v.strictObject({ id: Id, label: Text(14), say: Spoken })),
      v.minLength(2),
    ),
  }),
  v.strictObject({
    kind: v.literal('clock'),
    id: Id,
    label: Text(20),
    row: v.optional(Text(10)),
    say: Spoken,
    /** Smallest step of the direction, in minutes of the clock face; 30 is fifteen degrees. */
    stepMin: v.picklist([15, 30, 60]),
  }),
  v.strictObject({
    kind: v.literal('report'),
    id: Id,
    label: Text(24),
    row: v.optional(Text(10)),
    say: Spoken,
    /** The fact in full, for the read-back: "Guide pin in, to its depth mark". */
    reads: Text(60),
  }),
]);

/** One thing that a hold point asks for, with its two texts. */
const Condition = v.variant('type', [
  v.strictObject({
    type: v.literal('confirmed'),
    capture: Id,
    missing: Text(40),
    met: Text(40),
  }),
  v.strictObject({
    type: v.literal('is'),
    capture: Id,
    value: v.union([v.number(), v.string()]),
    missing: Text(40),
    met: Text(40),
  }),
  v.strictObject({ type: v.literal('finished'), step: Id, missing: Text(40), met: Text(40) }),
  v.strictObject({
    /** The value offered for the guarded capture equals another, confirmed one. */
    type: v.literal('same'),
    as: Id,
    missing: Text(40),
    met: Text(40),
  }),
]);

const HoldPoint = v.strictObject({
  id: Id,
  /** What is held back: "Baseplate". */
  title: Text(20),
  /** Why, in plain words. */
  reason: Text(120),
  guards: v.variant('type', [
    v.strictObject({ type: v.literal('step'), step: Id }),
    v.strictObject({ type: v.literal('capture'), capture: Id }),
  ]),
  needs: v.pipe(v.array(Condition), v.minLength(1)),
});

const Step = v.strictObject({
  id: Id,
  /** What is being done, in the imperative; the wall's largest line. */
  title: Text(30),
  /** The same on the line drawing. */
  short: Text(18),
  detail: Text(110),
  /** What the scrub practitioner hands over or prepares for this step. */
  cue: Text(28),
  captures: v.optional(v.array(Id), []),
  /** A step that waits for its own words begins only when they are said or pressed. */
  begins: v.optional(v.picklist(['itself', 'said']), 'itself'),
  say: v.optional(Spoken),
  /** Where this step sends the track when its capture has the given value. */
  loop: v.optional(
    v.strictObject({
      id: Id,
      title: Text(24),
      when: v.strictObject({ capture: Id, is: v.string() }),
      backTo: Id,
    }),
  ),
});

const Repeat = v.strictObject({
  repeat: v.strictObject({
    id: Id,
    title: Text(20),
    items: v.pipe(v.array(Text(8)), v.minLength(1)),
    /** How many items must be done before the rest may be left out. */
    atLeast: v.pipe(v.number(), v.integer(), v.minValue(0)),
    /** What ends it early: "no more screws". */
    endSay: Spoken,
    endLabel: Text(24),
    captures: v.array(Capture),
    steps: v.pipe(v.array(Step), v.minLength(1)),
  }),
});

const Phase = v.strictObject({
  id: Id,
  title: Text(18),
  quiet: v.optional(v.boolean(), false),
  usualMin: v.optional(v.pipe(v.number(), v.minValue(0.1))),
  steps: v.pipe(v.array(v.union([Step, Repeat])), v.minLength(1)),
});

const Track = v.strictObject({
  id: Id,
  title: Text(14),
  /** What ends a step of this track by voice, and what goes back. */
  doneSay: Spoken,
  backSay: Spoken,
  phases: v.pipe(v.array(Phase), v.minLength(1)),
});

/** The schema of a procedure file. */
export const ProcedureSchema = v.strictObject({
  format: v.literal(1),
  id: Id,
  title: Text(60),
  short: Text(22),
  /** What this file is and is not; shown at set-up. */
  note: Text(240),
  holdReasons: v.pipe(
    v.array(v.strictObject({ id: Id, label: Text(24), say: Spoken })),
    v.minLength(1),
  ),
  captures: v.array(Capture),
  tracks: v.pipe(v.array(Track), v.minLength(1)),
  holdPoints: v.array(HoldPoint),
});

/** A procedure as written. */
export type Procedure = v.InferOutput<typeof ProcedureSchema>;
export type CaptureSpec = v.InferOutput<typeof Capture>;
export type ConditionSpec = v.InferOutput<typeof Condition>;
export type HoldPointSpec = v.InferOutput<typeof HoldPoint>;
export type StepSpec = v.InferOutput<typeof Step>;
export type RepeatSpec = v.InferOutput<typeof Repeat>['repeat'];
