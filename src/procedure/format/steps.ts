/** Steps, phases, tracks, repeats and alternatives: the order of an operation. */
import * as v from 'valibot';
import { MILESTONES } from '../../domain';
import type { Milestone } from '../../domain';
import { Capture } from './captures';
import { described, Id, Minutes, Spoken, Text, Whole } from './words';

const NamedTime = v.picklist(Object.keys(MILESTONES) as [Milestone, ...Milestone[]]);

/** One line of a checklist, in the team's own words. */
export const CheckItem = v.strictObject({
  id: Id,
  text: described(Text(60), 'what is asked'),
  by: described(Id, 'the role that answers'),
  say: v.optional(described(Spoken, 'the words that answer it with yes')),
});

export const Step = v.strictObject({
  id: Id,
  title: described(Text(30), 'what is being done, in the imperative; the wall’s largest line'),
  short: described(Text(18), 'the same on the line drawing'),
  detail: described(Text(110), 'what to mind; may show captured values in braces'),
  cue: described(Text(28), 'what the scrub practitioner hands over or prepares'),
  uses: v.optional(described(v.array(Id), 'instruments it needs'), []),
  captures: v.optional(described(v.array(Id), 'what is captured during it'), []),
  begins: v.optional(
    described(
      v.picklist(['itself', 'said']),
      'by itself after the step before, or only when its words are said or pressed',
    ),
    'itself',
  ),
  say: v.optional(described(Spoken, 'the words that begin it')),
  optional: v.optional(
    described(
      v.strictObject({ say: Spoken, label: Text(24) }),
      'it may be left out; the words and the button that say so',
    ),
  ),
  ahead: v.optional(
    described(
      v.strictObject({ say: Spoken, label: Text(24) }),
      'it may be done before its turn; the words and the button that report it',
    ),
  ),
  loop: v.optional(
    described(
      v.strictObject({
        id: Id,
        title: Text(24),
        when: v.strictObject({ capture: Id, is: v.string() }),
        backTo: described(Id, 'an earlier step of the track'),
        warnAfter: v.optional(
          described(Whole(2, 20), 'from which round on the wall says how many'),
        ),
      }),
      'where it sends the track when its capture has the value',
    ),
  ),
  checklist: v.optional(
    described(
      v.pipe(v.array(CheckItem), v.minLength(1)),
      'what must be answered before it is finished',
    ),
  ),
  count: v.optional(described(Id, 'the count that is taken during it')),
  begunMarks: v.optional(described(NamedTime, 'the named time that its beginning is')),
  finishedMarks: v.optional(described(NamedTime, 'the named time that its end is')),
  usualMin: v.optional(described(Minutes, 'how long it usually takes')),
});

export const Repeat = v.strictObject({
  repeat: v.strictObject({
    id: Id,
    title: Text(20),
    items: described(
      v.pipe(v.array(Text(8)), v.minLength(1), v.maxLength(12)),
      'one round of the steps for each',
    ),
    atLeast: described(Whole(0, 12), 'how many must be done before the rest may be left out'),
    endSay: described(Spoken, 'what ends it early: "no more screws"'),
    endLabel: Text(24),
    captures: v.array(Capture),
    steps: v.pipe(v.array(Step), v.minLength(1)),
  }),
});

export const Phase = v.strictObject({
  id: Id,
  title: Text(18),
  quiet: v.optional(described(v.boolean(), 'no announcements while it runs'), false),
  usualMin: v.optional(described(Minutes, 'how long it usually takes')),
  steps: v.pipe(v.array(v.union([Step, Repeat])), v.minLength(1)),
});

/** Another way on, chosen during the case. */
export const Alternative = v.strictObject({
  id: Id,
  label: described(Text(24), 'what the button says'),
  say: described(Spoken, 'the words that choose it'),
  why: described(Text(80), 'when a team chooses it'),
  from: described(Id, 'the first step of the track at which it can be chosen'),
  until: described(Id, 'the last one'),
  phase: v.optional(
    described(Phase, 'what is done instead; nothing where it only leaves steps out'),
  ),
  joins: described(
    v.nullable(Id),
    'the later step at which the track goes on; null ends the track',
  ),
  alsoTo: v.optional(
    described(
      v.array(Id),
      'steps of other tracks to which these move on, where they stand before them',
    ),
    [],
  ),
});

export const Track = v.strictObject({
  id: Id,
  title: Text(14),
  doneSay: described(Spoken, 'what ends a step of this track'),
  backSay: described(Spoken, 'what goes back a step'),
  phases: v.pipe(v.array(Phase), v.minLength(1)),
  alternatives: v.optional(v.array(Alternative), []),
});
