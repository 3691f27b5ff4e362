/**
 * The procedure format, version 1: what a team writes to describe an operation.
 * One valibot schema checks the files; the types, the JSON Schema and the tables of
 * docs/procedure-format.md follow from it. Meaning across the file (ids that must
 * exist, values that must agree) is checked in ../check. Texts may hold `{item}`
 * inside a repeat and `{capture-id}` for a captured or derived value.
 */
import * as v from 'valibot';
import {
  Capture,
  ChoiceCapture,
  ClockCapture,
  Constraint,
  Derived,
  LabelCapture,
  NoteCapture,
  NumberCapture,
  QuantityCapture,
  ReportCapture,
  YesNoCapture,
} from './captures';
import { Condition, HoldPoint, Unless } from './hold-points';
import { Alternative, CheckItem, Phase, Repeat, Step, Track } from './steps';
import { Count, CountItem, Instrument, Role, Tally, Timer, TimerEvent } from './surroundings';
import { described, Id, Spoken, Text } from './words';

/** The version of the procedure format that this program reads and writes. */
export const PROCEDURE_FORMAT = 1;

/** The schema of a procedure file. */
export const ProcedureSchema = v.strictObject({
  format: described(v.literal(PROCEDURE_FORMAT), 'the version of this format'),
  id: Id,
  title: Text(60),
  short: described(Text(22), 'the same on the wall'),
  note: described(Text(240), 'what this file is and is not; shown at set-up'),
  roles: v.optional(v.array(Role), []),
  instruments: v.optional(v.array(Instrument), []),
  holdReasons: described(
    v.pipe(v.array(v.strictObject({ id: Id, label: Text(24), say: Spoken })), v.minLength(1)),
    'why the clock may be held; said as "hold for …"',
  ),
  captures: v.array(Capture),
  derived: v.optional(v.array(Derived), []),
  constraints: v.optional(v.array(Constraint), []),
  timers: v.optional(v.array(Timer), []),
  tallies: v.optional(v.array(Tally), []),
  countItems: v.optional(v.array(CountItem), []),
  counts: v.optional(v.array(Count), []),
  tracks: v.pipe(v.array(Track), v.minLength(1), v.maxLength(3)),
  holdPoints: v.array(HoldPoint),
});

/** The named parts of the format, in the order in which its documentation describes them. */
export const FORMAT_PARTS = {
  Role,
  Instrument,
  NumberCapture,
  QuantityCapture,
  ChoiceCapture,
  YesNoCapture,
  ClockCapture,
  ReportCapture,
  NoteCapture,
  LabelCapture,
  Derived,
  Constraint,
  Timer,
  TimerEvent,
  Tally,
  CountItem,
  Count,
  Track,
  Phase,
  Step,
  CheckItem,
  Repeat,
  Alternative,
  HoldPoint,
  Condition,
  Unless,
};

/** A procedure as written, defaults filled in. */
export type Procedure = v.InferOutput<typeof ProcedureSchema>;
export type CaptureSpec = v.InferOutput<typeof Capture>;
export type DerivedSpec = v.InferOutput<typeof Derived>;
export type ConstraintSpec = v.InferOutput<typeof Constraint>;
export type ConditionSpec = v.InferOutput<typeof Condition>;
export type UnlessSpec = v.InferOutput<typeof Unless>;
export type HoldPointSpec = v.InferOutput<typeof HoldPoint>;
export type CheckItemSpec = v.InferOutput<typeof CheckItem>;
export type StepSpec = v.InferOutput<typeof Step>;
export type PhaseSpec = v.InferOutput<typeof Phase>;
export type RepeatSpec = v.InferOutput<typeof Repeat>['repeat'];
export type TrackSpec = v.InferOutput<typeof Track>;
export type AlternativeSpec = v.InferOutput<typeof Alternative>;
export type TimerSpec = v.InferOutput<typeof Timer>;
export type TimerEventSpec = v.InferOutput<typeof TimerEvent>;
export type TallySpec = v.InferOutput<typeof Tally>;
export type CountSpec = v.InferOutput<typeof Count>;
export type CountItemSpec = v.InferOutput<typeof CountItem>;
export type InstrumentSpec = v.InferOutput<typeof Instrument>;
