/** After each case: hands it on once it is closed and durable. Only the window that writes does so. */
import type { CaseId } from '../../domain';
import type { SharedHost } from '../../session';

/** Calls `save` once for each case that is closed while this window writes it. */
export function backUpClosedCases(
  host: Pick<SharedHost, 'current' | 'isWriter' | 'watch'>,
  save: (caseId: CaseId) => Promise<void>,
): void {
  const saved = new Set<CaseId>();
  let stop: () => void = () => undefined;
  const follow = (): void => {
    stop();
    const running = host.current;
    stop =
      running?.subscribe(({ view }) => {
        const isDone = view.status === 'closed' && view.unsavedCount === 0;
        if (!isDone || !host.isWriter || saved.has(view.caseId)) return;
        saved.add(view.caseId);
        void save(view.caseId);
      }) ?? stop;
  };
  host.watch(follow);
  follow();
}
