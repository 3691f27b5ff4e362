/**
 * What a team can capture during a case: sizes, choices, directions, reports, notes
 * and labels; what is worked out from them; and what must agree between them.
 */
import * as v from 'valibot';
import { described, Id, Spoken, Text } from './words';

const Value = v.pipe(v.number(), v.finite(), v.minValue(0), v.maxValue(9999));

/** Units a number can have. */
export const UNITS = ['mm', 'deg', 'none', 'cm', 'ml', 'g', 'min', 'mmHg'] as const;

const Values = v.union([
  described(v.pipe(v.array(Value), v.minLength(1)), 'the values that exist'),
  described(
    v.strictObject({ from: Value, to: Value, step: v.pipe(Value, v.minValue(0.1)) }),
    'every value from one to another',
  ),
]);

/** What every capture has. */
const common = {
  id: described(Id, 'its name in this file'),
  label: described(Text(24), 'what the wall calls it'),
  row: v.optional(described(Text(10), 'its line in the list of sizes; captures may share one')),
  say: described(Spoken, 'the words before its value'),
  reliesOn: v.optional(
    described(
      v.array(Id),
      'captures that it was chosen by, beyond those found from the hold points',
    ),
    [],
  ),
};

export const NumberCapture = v.strictObject({
  kind: v.literal('number'),
  ...common,
  label: described(Text(20), 'what the wall calls it'),
  unit: described(v.picklist(UNITS), 'its unit; the wall shows it'),
  values: described(Values, 'the values that are taken'),
});

/** A measured or counted amount, such as blood loss; it is read back like a size but chooses no implant. */
export const QuantityCapture = v.strictObject({
  kind: v.literal('quantity'),
  ...common,
  label: described(Text(20), 'what the wall calls it'),
  unit: described(v.picklist(UNITS), 'its unit'),
  values: described(Values, 'the values that are taken'),
});

export const ChoiceCapture = v.strictObject({
  kind: v.literal('choice'),
  ...common,
  label: described(Text(20), 'what the wall calls it'),
  options: described(
    v.pipe(v.array(v.strictObject({ id: Id, label: Text(14), say: Spoken })), v.minLength(2)),
    'what can be chosen',
  ),
});

export const YesNoCapture = v.strictObject({
  kind: v.literal('yes-no'),
  ...common,
  asks: described(Text(60), 'the question in full: "Tourniquet used?"'),
});

export const ClockCapture = v.strictObject({
  kind: v.literal('clock'),
  ...common,
  label: described(Text(20), 'what the wall calls it'),
  stepMin: described(
    v.picklist([15, 30, 60]),
    'smallest step, in minutes of the clock face; 30 is fifteen degrees',
  ),
  shownIn: v.optional(
    described(v.picklist(['hours', 'degrees']), 'as a clock hour (10:30) or in degrees (315°)'),
    'hours',
  ),
  towards: v.optional(
    described(
      v.strictObject({ three: Text(14), nine: Text(14) }),
      'what lies at three and at nine o’clock on a right side; on a left side they change places',
    ),
  ),
});

export const ReportCapture = v.strictObject({
  kind: v.literal('report'),
  ...common,
  reads: described(
    Text(60),
    'the fact in full, for the read-back: "Guide pin in, to its depth mark"',
  ),
});

export const NoteCapture = v.strictObject({
  kind: v.literal('note'),
  ...common,
  asks: described(Text(60), 'what to write; typed at the desk'),
});

export const LabelCapture = v.strictObject({
  kind: v.literal('label'),
  ...common,
  asks: described(Text(60), 'which label to scan or type'),
});

/** What a confirmed read-back can hold. */
export const Capture = v.variant('kind', [
  NumberCapture,
  QuantityCapture,
  ChoiceCapture,
  YesNoCapture,
  ClockCapture,
  ReportCapture,
  NoteCapture,
  LabelCapture,
]);

/** A value that follows from a captured number: the drill that goes with a depth. */
export const Derived = v.strictObject({
  id: described(Id, 'its name; texts show it as {id}'),
  label: described(Text(20), 'what the wall calls it'),
  row: v.optional(described(Text(10), 'its line in the list of sizes')),
  unit: described(v.picklist(UNITS), 'its unit'),
  from: described(Id, 'the captured number that it follows from'),
  plus: v.optional(described(v.pipe(v.number(), v.finite()), 'added to it'), 0),
  table: v.optional(
    described(
      v.pipe(v.array(v.strictObject({ of: v.number(), is: v.number() })), v.minLength(1)),
      'the value for each captured number, instead of an addition',
    ),
  ),
});

/** What must agree between two captures. */
export const Constraint = v.strictObject({
  id: Id,
  capture: described(Id, 'the capture that is looked at when it is offered'),
  relation: described(
    v.picklist(['same', 'different', 'at-least', 'at-most', 'goes-with']),
    'how it must stand to the other: equal, unequal, not less, not more, or a pair of the list',
  ),
  to: described(Id, 'the other capture; nothing is compared before it is confirmed'),
  plus: v.optional(described(v.pipe(v.number(), v.finite()), 'added to the other number first'), 0),
  pairs: v.optional(
    described(
      v.array(
        v.strictObject({
          of: v.union([v.number(), v.string()]),
          are: v.array(v.union([v.number(), v.string()])),
        }),
      ),
      'for goes-with: the values that go with each value of the other',
    ),
  ),
  broken: described(Text(48), 'what the wall says where they do not agree'),
  onBreak: described(
    v.picklist(['refuse', 'ask']),
    'refuse the value, or warn and ask a second time',
  ),
});
