/**
 * One case taken from the record to look back on, with everything computed from it.
 * Follows the case while it runs.
 */
import { flushSync } from 'svelte';
import type { CaseId, Entry, Fault, Stamp, Outline } from '../../domain';
import {
  digestCase,
  findUsualRanges,
  foldSizes,
  foldTimes,
  listCosts,
  listIntervals,
  listMisheard,
  listNamedTimes,
  listOverrides,
  listRefusals,
  makeTimeline,
  tabulatePhases,
  tabulateSteps,
} from '../../review';
import type {
  CaseDigest,
  CaseTimes,
  CostRow,
  IntervalRow,
  LateCue,
  MisheardRow,
  NamedTimeRow,
  OverrideRow,
  PhaseRow,
  RefusalRow,
  StepRow,
  Timeline,
  UsualRange,
} from '../../review';
import { CaseLog, describeRecorded, findLateCues, listCaptures } from '../../session';
import type { CaptureLine, CaseView } from '../../session';
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
  readonly misheard: readonly MisheardRow[];
  readonly lateCues: readonly LateCue[];
  /** The captures of the case, for their labels and how a value is shown. */
  readonly captures: readonly CaptureLine[];
  readonly costs: readonly CostRow[];
  /** The team's own usual by phase ("track/phase"), from so many other cases; empty until they are read. */
  readonly ranges: ReadonlyMap<string, UsualRange>;
  readonly historyCount: number;
}

const NO_RANGES: ReadonlyMap<string, UsualRange> = new Map();

function costsOf(
  digest: CaseDigest | null,
  { tracks: [main] }: Outline,
  ranges: ReadonlyMap<string, UsualRange>,
): readonly CostRow[] {
  return digest ? listCosts(digest, ranges, main?.id) : [];
}

/** A look back gives no orders, so these have no effect on what is shown. */
const UNUSED_SETTINGS = { addressPhrase: '', lapseMs: 0 };

export class ReviewModel {
  review = $state.raw<Review | null>(null);
  fault = $state.raw<Fault | null>(null);
  /** Whether paper gets all of it; else one sheet. */
  isWholePrint = $state(false);
  #asked = 0;
  #history: { readonly caseId: CaseId; readonly digests: readonly CaseDigest[] } | null = null;

  constructor(private readonly app: AppModel) {}

  /** Reads the case and computes what is shown; the newest call wins. */
  async load(caseId: CaseId): Promise<void> {
    const mine = ++this.#asked;
    const read = await this.app.services.readCase(caseId);
    if (mine !== this.#asked) return;
    const made = read.ok ? this.#make(read.value) : read;
    this.review = made.ok ? made.value : null;
    this.fault = made.ok ? null : made.error;
    if (made.ok) await this.#addHistory(mine, made.value);
  }

  /** Other cases take longer to read: what they say is added when it is there. */
  async #addHistory(mine: number, review: Review): Promise<void> {
    const { entries, outline } = review.record;
    const { caseId } = review.view;
    // Read once: a running case comes here with every entry.
    if (this.#history?.caseId !== caseId) {
      const read = await this.app.services.readHistory({
        view: review.view,
        procedureId: review.record.setup.procedureId,
      });
      // Without other cases the review says less and nothing wrong.
      this.#history = { caseId, digests: read.ok ? read.value : [] };
    }
    const { digests } = this.#history;
    if (mine !== this.#asked || digests.length === 0) return;
    const ranges = findUsualRanges(digests);
    const costs = costsOf(digestCase(entries, outline), outline, ranges);
    this.review = { ...review, ranges, costs, historyCount: digests.length };
  }

  /** Prints the one sheet, or everything. */
  print(isWhole: boolean): void {
    flushSync(() => {
      this.isWholePrint = isWhole;
    });
    print();
    this.isWholePrint = false;
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
    const lateCues = findLateCues(entries, end);
    const card = describeRecorded(record.setup.procedure);
    return {
      ok: true,
      value: {
        record,
        view,
        times,
        end,
        timeline: makeTimeline(entries, outline, end, utcOffsetMin(end.at), lateCues),
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
        misheard: listMisheard(entries),
        lateCues,
        captures: listCaptures(record.setup.procedure),
        costs: costsOf(digestCase(entries, outline), outline, NO_RANGES),
        ranges: NO_RANGES,
        historyCount: 0,
      },
    };
  }

  /** A case that runs here lasts until now; one that was left lasts until its last entry. */
  #endOfOpen(view: CaseView, entries: readonly Entry[]): Stamp {
    const last = entries.at(-1);
    return this.app.view?.caseId === view.caseId || !last ? this.app.services.now() : last;
  }
}
