/**
 * The implant log: a fold over the record. Which packs were scanned, what became of
 * each, what was learnt of label numbers, what was counted and planned. One entry at a
 * time, so that every window has the same log.
 */
import type {
  AnglePlan, Fact, LabelData, PackEvent, PackFinding,
} from '../../domain'; // prettier-ignore

/** Where a pack stands. Scanned packs are closed; a wasted or implanted one is used up. */
export type PackState = 'scanned' | PackEvent;

export interface Pack {
  readonly id: string;
  readonly label: LabelData;
  readonly article: string | null;
  readonly slot: string | null;
  readonly findings: readonly PackFinding[];
  readonly state: PackState;
  /** Why it was opened in spite of a finding, or wasted; empty otherwise. */
  readonly reason: string;
  readonly scans: number;
}

export interface ImplantLog {
  /** In the order in which they were first scanned. */
  readonly packs: readonly Pack[];
  /** Product numbers learnt in this case, with their articles. */
  readonly learnt: Readonly<Record<string, string>>;
  /** Counted articles, less what was opened since. */
  readonly stock: Readonly<Record<string, number>>;
  readonly plan: AnglePlan | null;
  /** The catalogue that the record carries; null before it was needed. */
  readonly catalogue: unknown;
  /** The pack of the latest scan. */
  readonly lastScan: string | null;
}

/** The log before the first entry. */
export function emptyImplantLog(): ImplantLog {
  return { packs: [], learnt: {}, stock: {}, plan: null, catalogue: null, lastScan: null };
}

/** The log after one more fact. */
export function addToImplantLog(log: ImplantLog, fact: Fact): ImplantLog {
  switch (fact.type) {
    case 'angles.planned':
      return { ...log, plan: fact.data.plan };
    case 'catalogue.adopted':
      return { ...log, catalogue: fact.data.catalogue };
    case 'stock.counted':
      return { ...log, stock: { ...log.stock, [fact.data.article]: fact.data.count } };
    case 'label.scanned':
      return addScan(log, fact.data);
    case 'label.learned':
      return { ...log, learnt: { ...log.learnt, [fact.data.product]: fact.data.article } };
    case 'pack.moved':
      return movePack(log, fact.data);
    default:
      return log;
  }
}

/** Whether a pack is used up: what was in it is in the patient or thrown away. */
export function isUsedUp({ state }: Pack): boolean {
  return state === 'implanted' || state === 'wasted';
}

/** Whether a pack fills its place: open, or already in. */
export function isTaken({ state }: Pack): boolean {
  return state === 'opened' || state === 'implanted';
}

function addScan(
  log: ImplantLog,
  data: Extract<Fact, { type: 'label.scanned' }>['data'],
): ImplantLog {
  const { pack: id, label, article, slot, findings } = data;
  const earlier = log.packs.find((pack) => pack.id === id);
  const pack: Pack = earlier
    ? {
        ...earlier,
        label,
        article,
        slot: isTaken(earlier) ? earlier.slot : slot,
        findings,
        scans: earlier.scans + 1,
      }
    : { id, label, article, slot, findings, state: 'scanned', reason: '', scans: 1 };
  const packs = earlier
    ? log.packs.map((other) => (other.id === id ? pack : other))
    : [...log.packs, pack];
  return { ...log, packs, lastScan: id };
}

function movePack(
  log: ImplantLog,
  data: Extract<Fact, { type: 'pack.moved' }>['data'],
): ImplantLog {
  const { pack: id, event, slot, reason } = data;
  const moved = log.packs.find((pack) => pack.id === id);
  if (!moved) return log;
  const packs = log.packs.map((pack) =>
    pack === moved ? { ...pack, state: event, slot, reason } : pack,
  );
  const counted = moved.article === null ? undefined : log.stock[moved.article];
  if (event !== 'opened' || moved.article === null || counted === undefined)
    return { ...log, packs };
  return { ...log, packs, stock: { ...log.stock, [moved.article]: Math.max(0, counted - 1) } };
}
