/**
 * One case taken from the record to look back on, with everything computed from it.
 * Follows the case while it runs.
 */
import type { CaseId, Entry, Fault, Stamp } from '../../domain';
import {
  foldSizes,
  foldTimes,
  listIntervals,
  listNamedTimes,
  listOverrides,
  listRefusals,
  makeTimeline,
  tabulatePhases,
  tabulateSteps,
} from '../../review';
import type {
  CaseTimes,
  IntervalRow,
  NamedTimeRow,
  OverrideRow,
  PhaseRow,
  RefusalRow,
  StepRow,
  Timeline,
} from '../../review';
import { CaseLog, describeRecorded } from '../../session';
import type { CaseView } from '../../session';
import type { AppModel } from '../app-model.svelte';
import { utcOffsetMin } from '../parts/format';
import type { CaseRecord } from '../services';
import { listSizes } from './sizes-table';
import type { SizeLine } from './sizes-table';

/** Everything that the review shows of a case. */
export interface Review {
  readonly record: CaseRecord;
  readonly view: CaseView;
  readonly times: CaseTimes;
  readonly end: Stamp;
  readonly timeline: Timeline;
  readonly phases: readonly PhaseRow[];
  readonly steps: readonly StepRow[];
  readonly named: readonly NamedTimeRow[];
  readonly intervals: readonly IntervalRow[];
  readonly overrides: readonly OverrideRow[];
  readonly refusals: readonly RefusalRow[];
  readonly sizes: readonly SizeLine[];
}

/** A look back gives no orders, so these have no effect on what is shown. */
const UNUSED_SETTINGS = { addressPhrase: '', lapseMs: 0 };

export class ReviewModel {
  review = $state.raw<Review | null>(null);
  fault = $state.raw<Fault | null>(null);
  #asked = 0;

  constructor(private readonly app: AppModel) {}

  /** Reads the case and computes what is shown; the newest call wins. */
  async load(caseId: CaseId): Promise<void> {
    const mine = ++this.#asked;
    const read = await this.app.services.readCase(caseId);
    if (mine !== this.#asked) return;
    const made = read.ok ? this.#make(read.value) : read;
    this.review = made.ok ? made.value : null;
    this.fault = made.ok ? null : made.error;
  }

  clear(): void {
    this.#asked += 1;
    this.review = null;
    this.fault = null;
  }

  async save(kind: 'json' | 'entries-csv' | 'times-csv' | 'fhir'): Promise<void> {
    if (!this.review) return;
    const saved = await this.app.services.exportCase(this.review.view.caseId, kind);
    if (!saved.ok) this.app.notify(saved.error);
  }

  #make(
    record: CaseRecord,
  ): { readonly ok: true; readonly value: Review } | { readonly ok: false; readonly error: Fault } {
    const log = CaseLog.rebuild(record.entries, UNUSED_SETTINGS);
    if (!log.ok) return log;
    const { entries, outline } = record;
    const view = log.value.view(0, null);
    const times = foldTimes(entries, outline);
    const end = times.closedAt ?? this.#endOfOpen(view, entries);
    const card = describeRecorded(record.setup.procedure);
    return {
      ok: true,
      value: {
        record,
        view,
        times,
        end,
        timeline: makeTimeline(entries, outline, end, utcOffsetMin(end.at)),
        phases: tabulatePhases(times, outline, end),
        steps: tabulateSteps(times, outline, end),
        named: listNamedTimes(entries),
        intervals: listIntervals(entries),
        overrides: listOverrides(entries),
        refusals: listRefusals(entries),
        sizes: listSizes(
          view,
          card.ok ? card.value.planFields : [],
          record.setup.plan,
          foldSizes(entries),
        ),
      },
    };
  }

  /** A case that runs here lasts until now; one that was left lasts until its last entry. */
  #endOfOpen(view: CaseView, entries: readonly Entry[]): Stamp {
    const last = entries.at(-1);
    return this.app.view?.caseId === view.caseId || !last ? this.app.services.now() : last;
  }
}
