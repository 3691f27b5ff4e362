/** Hold points: what must be true before a step may begin or a value be taken. */
import * as v from 'valibot';
import { described, Id, Text } from './words';

/** A circumstance in which a need is not asked for. */
export const Unless = v.variant('type', [
  v.strictObject({
    type: v.literal('chosen'),
    alternative: described(Id, 'an alternative that was chosen'),
  }),
  v.strictObject({
    type: v.literal('is'),
    capture: described(Id, 'a capture that has the value'),
    value: v.union([v.number(), v.string()]),
  }),
  v.strictObject({
    type: v.literal('skipped'),
    step: described(Id, 'an optional step that was left out'),
  }),
]);

/** What every condition has. */
const common = {
  missing: described(Text(40), 'what the wall says while it is not met'),
  met: described(Text(40), 'what the wall says once it is'),
  unless: v.optional(described(Unless, 'when it is not asked for')),
};

/** One thing that a hold point asks for, with its two texts. */
export const Condition = v.variant('type', [
  v.strictObject({
    type: v.literal('confirmed'),
    capture: described(Id, 'a capture that is confirmed'),
    ...common,
  }),
  v.strictObject({
    type: v.literal('is'),
    capture: described(Id, 'a capture that has the value'),
    value: v.union([v.number(), v.string()]),
    ...common,
  }),
  v.strictObject({
    type: v.literal('finished'),
    step: described(Id, 'a step that is finished'),
    ...common,
  }),
  v.strictObject({
    type: v.literal('same'),
    as: described(Id, 'the value offered for the guarded capture equals this confirmed one'),
    ...common,
  }),
  v.strictObject({
    type: v.literal('agrees'),
    count: described(Id, 'a count whose every item agrees with what was handed out'),
    ...common,
  }),
  v.strictObject({
    type: v.literal('running'),
    timer: described(Id, 'a timer that runs'),
    ...common,
  }),
  v.strictObject({ type: v.literal('reconciled'), ...common }),
]);

export const HoldPoint = v.strictObject({
  id: Id,
  title: described(Text(20), 'what is held back: "Baseplate"'),
  reason: described(Text(120), 'why, in plain words'),
  guards: described(
    v.variant('type', [
      v.strictObject({ type: v.literal('step'), step: Id }),
      v.strictObject({ type: v.literal('capture'), capture: Id }),
    ]),
    'the step or the capture that it stands before',
  ),
  needs: described(v.pipe(v.array(Condition), v.minLength(1)), 'all of these'),
});
