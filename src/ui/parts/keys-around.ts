/**
 * Keys for what surrounds the steps: the line of a checklist that is being answered, the
 * line of a count that takes the digits, reminders, tallies, taking the last order back.
 * Pure; part of the key map.
 */
import type { CheckAnswer, CheckItemId, CountId, CountItemId, Order, StepId } from '../../domain';
import type { CaseView } from '../../session';

/** The line of a checklist that Y, X and A answer. */
export interface CheckLine {
  readonly step: StepId;
  readonly item: CheckItemId;
}

/** The line of a count that digits go to. */
export interface CountLine {
  readonly count: CountId;
  readonly item: CountItemId;
  readonly label: string;
  readonly expected: number | null;
}

/** The keys of these, as shown on their buttons. */
export const AROUND_KEYS = {
  yes: 'Y',
  no: 'X',
  notApplicable: 'A',
  count: 'C',
  differs: 'F',
  answered: 'I',
  tally: 'P',
  undo: 'U',
  leaveOut: 'O',
} as const;

const ANSWERS: Readonly<Record<string, CheckAnswer>> = {
  [AROUND_KEYS.yes]: 'yes',
  [AROUND_KEYS.no]: 'no',
  [AROUND_KEYS.notApplicable]: 'not-applicable',
};

/** What a letter orders here; null where it means nothing. */
export function letterToOrder(
  name: string,
  view: CaseView,
  { checkLine, countLine }: { checkLine: CheckLine | null; countLine: CountLine | null },
): Order | null {
  const answer = ANSWERS[name];
  if (answer) return checkLine && { type: 'check.answer', ...checkLine, answer };
  switch (name) {
    case AROUND_KEYS.differs:
      return (
        countLine && {
          type: 'count.record',
          count: countLine.count,
          item: countLine.item,
          value: null,
        }
      );
    case AROUND_KEYS.answered: {
      const due = view.timers.find(({ isDue }) => isDue);
      return due ? { type: 'timer.answer', timer: due.timer } : null;
    }
    case AROUND_KEYS.tally: {
      const [tally] = view.tallies;
      return tally ? { type: 'tally.add', tally: tally.tally, by: 1 } : null;
    }
    case AROUND_KEYS.undo:
      return view.undoable ? { type: 'order.undo' } : null;
    case AROUND_KEYS.leaveOut: {
      const out = view.tracks.find(({ leaveOut }) => leaveOut)?.leaveOut;
      return out ? { type: 'step.leaveOut', step: out.step } : null;
    }
    default:
      return null;
  }
}

/**
 * The line of the checklist that is answered next: the chosen one, else the first without
 * an answer. `sent` are lines whose answer is on its way: a second quick press is meant for
 * the line after them.
 */
export function findCheckLine(
  { checklists }: CaseView,
  chosen: CheckItemId | null,
  sent: ReadonlySet<string> = new Set(),
): CheckLine | null {
  const [list] = checklists;
  if (!list) return null;
  const { items, step } = list;
  const line =
    items.find(({ item }) => item === chosen) ??
    items.find(({ item, answer }) => answer === null && !sent.has(item));
  return line ? { step, item: line.item } : null;
}

/** The line of the count that is counted next: the chosen one, else the first not counted; `sent` as above. */
export function findCountLine(
  { counts }: CaseView,
  chosen: CountItemId | null,
  sent: ReadonlySet<string> = new Set(),
): CountLine | null {
  const now = counts.filter(({ isNow }) => isNow);
  const open = now.find(({ items }) => items.some(({ result }) => result !== 'agrees')) ?? now[0];
  if (!open) return null;
  const line =
    open.items.find(({ item }) => item === chosen) ??
    open.items.find(({ item, result }) => result === null && !sent.has(item));
  if (!line) return null;
  const { item, label, expected } = line;
  return { count: open.count, item, label, expected };
}

/** The line before or after in a list; stays at the ends. */
export function stepTo<T>(items: readonly T[], here: number, by: 1 | -1): T | null {
  return items[Math.min(items.length - 1, Math.max(0, here + by))] ?? null;
}
