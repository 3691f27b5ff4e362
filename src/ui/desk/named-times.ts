/** The named times as the desk shows them: each with its newest mark. Pure. */
import { listMilestones } from '../../domain';
import type { Milestone, Stamp } from '../../domain';
import type { CaseView } from '../../session';

export interface NamedTime {
  readonly code: Milestone;
  readonly name: string;
  /** The newest mark; null where it was never pressed. */
  readonly at: Stamp | null;
  /** How often it was marked. */
  readonly times: number;
}

/** All named times in their usual order. */
export function listNamedTimes(view: Pick<CaseView, 'milestones'>): readonly NamedTime[] {
  return listMilestones().map(({ code, name }) => {
    const marks = view.milestones.filter(({ milestone }) => milestone === code);
    return { code, name, at: marks.at(-1)?.at ?? null, times: marks.length };
  });
}
