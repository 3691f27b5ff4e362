/**
 * Every kind of finding: whether the file can be run with it, and what its author can
 * do. The codes are stable: programs that read the checker's JSON rely on them, so one
 * is never renamed. docs/procedure-format.md lists them; each has a broken file in
 * tests/procedure/corpus.
 */

interface KindOfFinding {
  /** Whether a file with such a finding is refused: a case could get stuck, or one order be taken for another. */
  readonly isFatal: boolean;
  readonly advice: string;
}

const fatal = (advice: string): KindOfFinding => ({ isFatal: true, advice });
const remark = (advice: string): KindOfFinding => ({ isFatal: false, advice });

export const FINDING_KINDS = {
  // Shape and size
  'shape': fatal('Write this place as docs/procedure-format.md describes it.'),
  'too-large': fatal('Split the operation into several files, or leave values out.'),
  'item-not-an-id': fatal('Name the items of a repeat in lower-case letters and digits, each once.'),
  'item-outside-repeat': fatal('Use {item} only inside a repeat and in hold points whose id holds {item}.'),
  // Names
  'id-twice': fatal('Give one of them another id.'),
  'unknown-name': fatal('Correct the name, or add what it names.'),
  'unknown-instrument': fatal('Add the instrument to "instruments", or correct the name.'),
  'unknown-role': fatal('Add the role to "roles", or correct the name.'),
  // Captures and what hangs on them
  'capture-never-taken': fatal('Name it in the captures of a step, or leave it out.'),
  'capture-taken-twice': fatal('Let one step take it; a second measurement is a capture of its own.'),
  'values-faulty': fatal('List each value once, from small to large, 200 at most.'),
  'options-alike': fatal('Give each option its own id, label and words.'),
  'relies-on-itself': fatal('Leave its own name out of reliesOn.'),
  'derived-faulty': fatal('Derive from a captured number, with an addition or a table that has a line for each of its values.'),
  'constraint-faulty': fatal('Compare two different captures with lists of values; pairs belong to goes-with only.'),
  'constraint-impossible': fatal('No pair of legal values fits. Correct the relation or the values.'),
  'constraint-leaves-none': remark('After this value of the other capture no value is left. Leave it out, or ask instead of refusing.'),
  // Steps
  'begins-without-words': fatal('Give the words that begin it, or let it begin by itself.'),
  'loop-faulty': fatal('Let it lead to an earlier step of the same way, on one value of a capture that this step takes.'),
  'loop-without-exit': fatal('Loop on a capture that can also have another value.'),
  'ahead-contradicts': fatal('Only a plain step without hold point, captures, loop, count, checklist or repeat can be done ahead.'),
  'ahead-of-nothing': remark('It is the first of its track, so there is no earlier moment. Leave "ahead" out.'),
  'optional-but-needed': fatal('Add "unless": {"type": "skipped"} to the need, or do not let the step be left out.'),
  // Alternatives
  'alternative-backwards': fatal('Let it join after "until", and choose it from an earlier to a later step.'),
  'alternative-joins-inside': fatal('Let it join at the first step of a phase.'),
  'alternative-empty': fatal('Give it a phase, or a step to go on at.'),
  // Timers and counts
  'timer-never-starts': fatal('Give it an event or words that start it.'),
  'count-never-taken': fatal('Name it in a step, or leave it out.'),
  'count-taken-twice': fatal('Let one step take it; each later count is a count of its own.'),
  'count-without-baseline': fatal('Counts need their items and exactly one baseline, which the others must agree with.'),
  'relief-count-faulty': fatal('One relief count at most, and no step takes it: it falls due when a role is handed over.'),
  // Hold points
  'guarded-twice': fatal('Put all needs into one hold point.'),
  'need-impossible': fatal('Ask for a value that the capture can have; compare a guarded capture only.'),
  // Texts and phrases
  'text-unknown-value': fatal('Put a capture or a derived value of this file in the braces.'),
  'text-too-long': fatal('Shorten the text; it must fit its place with the longest legal value filled in.'),
  'phrase-of-the-wall': fatal('Choose other words: the wall itself answers to these.'),
  'phrase-twice': fatal('Give one of them other words.'),
  'phrase-same-sound': fatal('Give one of them words that sound different.'),
  'sounds-alike': remark('Choose words that share less; the read-back is the only other guard.'),
  'digits-only': remark('They are taken digit by digit only. Leave one out if the set allows it.'),
  'not-pronounceable': fatal('Use another word, or add its sounds to the lexicon.'),
  // The walk through all states
  'never-begins': fatal('Look at the hold points, loops and ways before it.'),
  'hold-never-opens': fatal('Ask only for what can be confirmed, finished or running before it.'),
  'no-way-to-the-end': fatal('Give the loop a way out, or the hold point needs that can be met.'),
  'value-before-capture': remark('Capture it before, or put a hold point in front of this step.'),
  'walk-cut-short': remark('Only what is named here was looked at. Split the operation, let fewer things happen side by side, or check with the command, which looks further.'),
} as const satisfies Readonly<Record<string, KindOfFinding>>; // prettier-ignore

/** The stable code of a kind of finding. */
export type FindingKind = keyof typeof FINDING_KINDS;
