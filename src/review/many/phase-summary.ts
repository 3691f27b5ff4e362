/** Each phase over many cases: how long, how often again, and what did not count. Durations in minutes. */
import type { PhaseDigest } from '../digest/case-digest';
import { summarise } from '../statistics/percentile';
import type { FiveNumbers } from '../statistics/percentile';
import type { CaseTable, PhaseKind, Row } from './case-table';

/** One phase over many cases. */
export interface PhaseSummary {
  readonly key: string;
  readonly track: string;
  readonly title: string;
  readonly usualMin: number | null;
  /** Null where no case had it whole. */
  readonly minutes: FiveNumbers | null;
  /** The latest durations, oldest first, for the strip of points. */
  readonly latest: readonly number[];
  /** Cases in which it was left out, cut short or timed across a restart. */
  readonly notCounted: number;
  readonly loops: number;
}

/** How many points a strip has room for. */
const STRIP_POINTS = 120;
const MINUTE_MS = 60_000;

/** Names a phase of a track. */
export function phaseKey({
  track,
  phase,
}: Pick<PhaseDigest, 'track' | 'phase'> | PhaseKind): string {
  return `${track}/${phase}`;
}

interface Gathered {
  readonly kind: PhaseKind;
  readonly minutes: number[];
  notCounted: number;
  loops: number;
}

/** Phases in the order in which the cases had them. */
export function summarisePhases(table: CaseTable, rows: readonly Row[]): readonly PhaseSummary[] {
  const { columns } = table;
  const [kinds, whole, ms, passes] = [columns.phaseKind.values, columns.phaseIsWhole.values, columns.phaseMs.values, columns.phasePasses.values]; // prettier-ignore
  const gathered = new Map<string, Gathered>();
  const byCode: Gathered[] = [];
  for (const row of rows) {
    const { from, to } = table.spanOf('phases', row);
    for (let place = from; place < to; place += 1) {
      const code = kinds[place] as number;
      const it = (byCode[code] ??= gatherUnder(gathered, table.phaseKindOf(code)));
      if (whole[place] === 0) it.notCounted += 1;
      else it.minutes.push((ms[place] as number) / MINUTE_MS);
      it.loops += Math.max(0, (passes[place] as number) - 1);
    }
  }
  return [...gathered].map(([key, { kind, minutes, notCounted, loops }]) => ({
    key,
    track: kind.track,
    title: kind.title,
    usualMin: kind.usualMs === null ? null : kind.usualMs / MINUTE_MS,
    minutes: summarise(minutes),
    latest: minutes.slice(-STRIP_POINTS),
    notCounted,
    loops,
  }));
}

/** A phase keeps the title and usual time under which it was first met. */
function gatherUnder(gathered: Map<string, Gathered>, kind: PhaseKind): Gathered {
  const key = phaseKey(kind);
  const known = gathered.get(key);
  if (known) return known;
  const fresh: Gathered = { kind, minutes: [], notCounted: 0, loops: 0 };
  gathered.set(key, fresh);
  return fresh;
}
