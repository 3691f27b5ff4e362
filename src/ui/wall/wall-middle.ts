/**
 * Decides what the middle of the wall says: one thing at a time, the one that
 * matters most now. Pure; drawing is the components' business.
 */
import { elapsedBetween } from '../../domain';
import type { ConditionState, Stamp } from '../../domain';
import type {
  ChecklistView, CaseView, CountView, ReadBackView, TrackView, WantedView,
} from '../../session'; // prettier-ignore

/** How long does a refusal stay large? Long enough to read four lines from five metres. */
export const REFUSAL_MS = 8_000;

export interface HoldText {
  readonly heading: string;
  readonly conditions: readonly ConditionState[];
  /** Why, where there is room for it. */
  readonly reason: string;
  readonly foot: string;
}

export type Middle =
  | { readonly kind: 'read-back'; readonly readBack: ReadBackView; readonly from: string }
  | { readonly kind: 'hold'; readonly isStanding: boolean; readonly text: HoldText }
  | { readonly kind: 'clock-held'; readonly reason: string; readonly since: Stamp; readonly step: string }
  | { readonly kind: 'checklist'; readonly list: ChecklistView }
  | { readonly kind: 'count'; readonly count: CountView }
  | { readonly kind: 'step'; readonly track: TrackView; readonly wanted: WantedView | null; readonly isWaiting: boolean }
  | { readonly kind: 'complete' }
  | { readonly kind: 'closed' }; // prettier-ignore

const DESK_ONLY = 'Override only at the desk, with a reason';
/** How many conditions leave room for the reason as well? */
const ROOM_FOR_REASON = 2;

/** What the middle shows now. */
export function middleOf(view: CaseView, now: Stamp): Middle {
  const { readBack, clockHold, status } = view;
  const [main] = view.tracks;
  if (status === 'closed' || !main) return { kind: 'closed' };
  if (readBack) return { kind: 'read-back', readBack, from: trackOfReadBack(view) };
  const interruption = overrideAskedOf(view) ?? refusalOf(view, now);
  if (interruption) return interruption;
  if (clockHold) return { kind: 'clock-held', ...clockHold, step: main.current?.title ?? '' };
  if (status === 'complete') return { kind: 'complete' };
  if (main.held) {
    const { title, conditions, reason } = main.held;
    return holdOf(true, { heading: `Held: ${title}`, conditions, reason, foot: DESK_ONLY });
  }
  const pause = pauseOf(view, main);
  if (pause) return pause;
  const isWaiting = typeof main.current?.beginSay === 'string';
  return { kind: 'step', track: main, wanted: wantedOf(view, main), isWaiting };
}

/** A checklist is the whole team's; a count takes the middle while the main track stands at it. */
function pauseOf({ checklists, counts }: CaseView, main: TrackView): Middle | null {
  const [list] = checklists;
  if (list) return { kind: 'checklist', list };
  const count = counts.find(({ track }) => track === main.id);
  return count ? { kind: 'count', count } : null;
}

function overrideAskedOf({ overrideAsked }: CaseView): Middle | null {
  if (!overrideAsked) return null;
  const { title, conditions, why } = overrideAsked;
  return holdOf(false, {
    heading: `Override asked: ${title}`,
    conditions,
    reason: `“${why}”`,
    foot: 'Second confirmation waits at the desk',
  });
}

function refusalOf({ heldAttempt, holdPoints }: CaseView, now: Stamp): Middle | null {
  if (!heldAttempt || elapsedBetween(heldAttempt.at, now).ms >= REFUSAL_MS) return null;
  const point = holdPoints.find(({ id }) => id === heldAttempt.holdPoint);
  return holdOf(false, {
    heading: `Not yet: ${point?.title ?? ''}`,
    conditions: heldAttempt.conditions,
    reason: point?.reason ?? '',
    foot: DESK_ONLY,
  });
}

/** The first thing that a track's step still waits for. */
export function wantedOf(view: CaseView, track: TrackView): WantedView | null {
  return view.wanted.find((want) => want.track === track.id && !want.isConfirmed) ?? null;
}

/** The same as one sentence, read aloud by assistive technology when it changes. */
export function middleToSentence(middle: Middle): string {
  switch (middle.kind) {
    case 'read-back':
      return `Read back: ${middle.readBack.spell}. Right?`;
    case 'hold': {
      const missing = middle.text.conditions.filter(({ isMet }) => !isMet);
      return `${middle.text.heading}. ${missing.map(({ text }) => text).join('. ')}.`;
    }
    case 'clock-held':
      return `Clock held: ${middle.reason}.`;
    case 'step': {
      const { track, wanted, isWaiting } = middle;
      const title = track.current?.title ?? `${track.title}: all done`;
      const want = wanted ? ` Wanted: ${wanted.label}.` : '';
      return `${isWaiting ? 'Ready' : 'Now'}: ${title}.${want}`;
    }
    case 'checklist': {
      const line = middle.list.items.find(({ answer }) => answer === null);
      return line
        ? `${middle.list.title}. ${line.by}: ${line.text}`
        : `${middle.list.title}. All answered.`;
    }
    case 'count': {
      const differing = middle.count.items.filter(({ result }) => result === 'differs');
      const what = differing.map(({ label }) => label).join(', ');
      return `${middle.count.title}.${what === '' ? '' : ` Does not agree: ${what}.`}`;
    }
    case 'complete':
      return 'All steps are done.';
    case 'closed':
      return 'The case is closed.';
  }
}

function holdOf(isStanding: boolean, text: HoldText): Middle {
  const conditions = [...text.conditions].sort((a, b) => Number(a.isMet) - Number(b.isMet));
  const reason = conditions.length <= ROOM_FOR_REASON ? text.reason : '';
  return { kind: 'hold', isStanding, text: { ...text, conditions, reason } };
}

/** Names the track that a read-back comes from where it isn't the first. */
function trackOfReadBack({ tracks, wanted, readBack }: CaseView): string {
  const track = wanted.find(({ capture }) => capture === readBack?.capture)?.track;
  return tracks.find(({ id }, index) => index > 0 && id === track)?.title ?? '';
}
