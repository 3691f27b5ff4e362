/** Whether what an announcement is about still stands. Pure; asked before each word of it. */
import type { AnnouncementSubject, CaptureId } from '../../domain';
import type { CaseView } from '../view/view';

/** False where the reason has gone, or the wall is to be silent. */
export function isStillTrue(about: AnnouncementSubject, view: CaseView): boolean {
  if (view.isMuted || view.isQuiet || view.status === 'closed') return false;
  switch (about.kind) {
    case 'moment':
      return true;
    case 'read-back': {
      const { readBack } = view;
      return (
        readBack?.capture === about.capture &&
        readBack.value === about.value &&
        readBack.isQuestioned === about.isQuestioned
      );
    }
    case 'unsettled':
      return about.captures.some((capture) => isUnsettled(capture, view));
    case 'step':
      return view.tracks.some(
        ({ state, current }) => state === 'doing' && current?.step === about.step,
      );
    case 'hold-point':
      return view.holdPoints.some(({ id, state }) => id === about.holdPoint && state === 'closed');
    case 'timer':
      return view.timers.some(({ timer, isDue }) => timer === about.timer && isDue);
    case 'count':
      return view.counts.some(({ items }) =>
        items.some(({ item, result }) => item === about.item && result === 'differs'),
      );
  }
}

/** Asked for, and not being read back at this moment. */
function isUnsettled(capture: CaptureId, { wanted, readBack }: CaseView): boolean {
  return (
    readBack?.capture !== capture &&
    wanted.some((one) => one.capture === capture && !one.isConfirmed)
  );
}
