/**
 * The strip above the hand-over row: what is due, what does not agree, what stands in
 * doubt, what to open ahead, what runs, other ways on. The most pressing first; as much
 * as fits, the rest is counted. Pure; widths are estimated on the wide side.
 */
import type { Stamp } from '../../domain';
import type { CaseView } from '../../session';
import { timerStateOf } from '../parts/timer-state';
import { differenceOf } from './wall-count';
import { durationToText } from './wall-times';

/** "act" is a solid plate, "grave" a held one, "want" an outline, "plain" bare text. */
export type StripTone = 'act' | 'grave' | 'want' | 'plain';

export interface StripItem {
  readonly id: string;
  readonly tone: StripTone;
  readonly text: string;
}

/** Widths in wall units: the room of the strip, a character, what a piece takes beside its text. */
const STRIP_WIDTH = 1840;
const CHAR = 20.5;
const PADDING = 64;
/** Room kept for "and 2 more at the desk". */
const MORE_WIDTH = 330;

/** Everything that could be said, the most pressing first. */
export function listStrip(view: CaseView, now: Stamp): readonly StripItem[] {
  if (view.status === 'closed') return [];
  const pressing = [...dueItems(view), ...countItems(view)];
  // While everyone stops for a checklist, only what can't wait stands beside it.
  if (view.checklists.length > 0) return pressing;
  return [...pressing, ...doubtItems(view), ...otherItems(view, now)];
}

/** The pieces that fit, and how many do not. */
export function fitStrip(items: readonly StripItem[]): {
  readonly shown: readonly StripItem[];
  readonly hidden: number;
} {
  const widthOf = ({ text }: StripItem) => text.length * CHAR + PADDING;
  const total = items.reduce((sum, item) => sum + widthOf(item), 0);
  let left = total <= STRIP_WIDTH ? STRIP_WIDTH : STRIP_WIDTH - MORE_WIDTH;
  const shown: StripItem[] = [];
  for (const [index, item] of items.entries()) {
    if (index > 0 && widthOf(item) > left) continue;
    shown.push(item);
    left -= widthOf(item);
  }
  return { shown, hidden: items.length - shown.length };
}

function dueItems({ timers, isReliefDue }: CaseView): readonly StripItem[] {
  const due = timers
    .filter(({ isDue }) => isDue)
    .map(({ timer, remind }): StripItem => ({ id: `due-${timer}`, tone: 'act', text: remind }));
  return isReliefDue ? [...due, { id: 'relief', tone: 'act', text: 'Relief: count now' }] : due;
}

function countItems({ counts, tracks }: CaseView): readonly StripItem[] {
  const [main] = tracks;
  return counts
    .filter(({ track }) => track === null || track !== main?.id)
    .flatMap(({ count, title, items }): readonly StripItem[] => {
      const [first, ...more] = items.filter(({ result }) => result === 'differs');
      if (!first) return [];
      const rest = more.length > 0 ? ` and ${more.length} more` : '';
      const text = `≠ ${title}: ${first.label} ${differenceOf(first)}${rest}`;
      return [{ id: `count-${count}`, tone: 'grave', text }];
    });
}

function doubtItems({ again, wanted }: CaseView): readonly StripItem[] {
  const [first, ...more] = again.filter(({ why }) => why === 'doubtful');
  if (!first) return [];
  const rest = more.length > 0 ? ` and ${more.length} more` : '';
  // A report has no value to show: its label says it all.
  const isReport = wanted.some(
    ({ capture, kind }) => capture === first.capture && kind === 'report',
  );
  const value = isReport ? '' : ` ${first.text}`;
  return [{ id: 'doubt', tone: 'want', text: `In doubt: ${first.label}${value}${rest}` }];
}

function otherItems(view: CaseView, now: Stamp): readonly StripItem[] {
  const prepare = view.tracks
    .flatMap((track) => track.prepare)
    .toSorted((a, b) => a.inSteps - b.inSteps)
    .map(({ text, inSteps }): StripItem => {
      const when = inSteps === 1 ? 'needed next' : `needed in ${inSteps} steps`;
      return { id: `open-${text}`, tone: 'want', text: `Open now: ${text}, ${when}` };
    });
  const running = view.timers
    .filter(({ isDue }) => !isDue)
    .map((timer): StripItem => {
      const { ranMs, leftMs } = timerStateOf(timer, now);
      const left = leftMs === null ? '' : `, due in ${durationToText(leftMs)}`;
      const text = `${timer.label} ${durationToText(ranMs, true)}${left}`;
      return { id: timer.timer, tone: 'plain', text };
    });
  const tallies = view.tallies
    .filter(({ total }) => total > 0)
    .map(({ tally, label, total }): StripItem => {
      return { id: `tally-${tally}`, tone: 'plain', text: `${label} ${total}` };
    });
  const ways = view.alternatives.map(({ alternative, label, say }): StripItem => {
    return { id: alternative, tone: 'plain', text: `${label}: say “${say}”` };
  });
  const [firstToOpen, ...moreToOpen] = prepare;
  const first = firstToOpen ? [firstToOpen] : [];
  return [...first, ...running, ...tallies, ...moreToOpen, ...ways];
}
