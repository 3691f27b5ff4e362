/** What surrounds the steps: instruments, timers, tallies, counts and roles. */
import * as v from 'valibot';
import { MILESTONES } from '../../domain';
import type { Milestone } from '../../domain';
import { described, Id, Minutes, Spoken, Text, Whole } from './words';

export const Instrument = v.strictObject({
  id: Id,
  label: described(Text(28), 'what it is called at the table'),
  tray: described(Text(28), 'the tray, set or pack that it is in'),
  leadSteps: v.optional(
    described(Whole(1, 8), 'how many steps before it is needed it must be opened or prepared'),
  ),
});

/** What starts or stops a timer by itself. */
export const TimerEvent = v.variant('type', [
  v.strictObject({ type: v.literal('begun'), step: Id }),
  v.strictObject({ type: v.literal('finished'), step: Id }),
  v.strictObject({ type: v.literal('confirmed'), capture: Id }),
  v.strictObject({
    type: v.literal('named-time'),
    milestone: v.picklist(Object.keys(MILESTONES) as [Milestone, ...Milestone[]]),
  }),
]);

/** A time that the wall watches. It reminds; it decides nothing. */
export const Timer = v.strictObject({
  id: Id,
  label: described(Text(24), 'what the wall calls it'),
  remind: described(Text(40), 'what the wall shows and says when it is due'),
  dueMin: described(Minutes, 'after how many minutes; only a default, each site sets its own'),
  source: described(Text(100), 'where the default comes from'),
  repeat: v.optional(
    described(
      v.picklist(['never', 'from-start', 'from-answer']),
      'once, again after every such time since it began, or since it was last answered',
    ),
    'never',
  ),
  starts: v.optional(described(TimerEvent, 'what starts it by itself')),
  stops: v.optional(described(TimerEvent, 'what stops it by itself')),
  startSay: v.optional(described(Spoken, 'words that start it')),
  stopSay: v.optional(described(Spoken, 'words that stop it')),
  answerSay: v.optional(described(Spoken, 'words that say the reminder was followed')),
});

/** Something that is counted up one by one during the case, such as fluoroscopy shots. */
export const Tally = v.strictObject({
  id: Id,
  label: Text(20),
  say: described(Spoken, 'the words that add one'),
});

export const CountItem = v.strictObject({
  id: Id,
  label: described(Text(16), 'swabs, sharps, instruments'),
  say: described(Spoken, 'the word that begins its phrases'),
  usual: described(
    Whole(0, 999),
    'how many the set holds at the start; the baseline count settles it',
  ),
});

export const Count = v.strictObject({
  id: Id,
  title: Text(24),
  kind: described(
    v.picklist(['baseline', 'cavity', 'closure', 'final', 'relief']),
    'what it is for; a baseline sets what the others must agree with',
  ),
});

export const Role = v.strictObject({
  id: Id,
  title: described(Text(24), 'the role; never a person'),
  countsOnRelief: v.optional(
    described(v.boolean(), 'a relief count is due when somebody else takes this role over'),
    false,
  ),
});
