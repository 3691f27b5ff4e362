/**
 * Compares a scanned label with the case: which article it is, where it would go, and
 * what speaks against it. Pure; today is passed in as an ISO day.
 */
import type { LabelData, PackFinding, Side } from '../../domain';
import { articleOfNumber, findArticle } from '../catalogue/articles';
import type { Article } from '../catalogue/articles';
import { agrees, articleWanted, findBreaks, slotValues } from '../catalogue/chains';
import type { Chosen } from '../catalogue/chains';
import type { Catalogue, Slot } from '../catalogue/format';
import { isTaken, isUsedUp } from './log';
import type { ImplantLog, Pack } from './log';

/** What a label is compared with. */
export interface ScanContext {
  readonly catalogue: Catalogue | null;
  readonly log: ImplantLog;
  /** Confirmed sizes by capture. */
  readonly confirmed: Chosen;
  readonly side: Side;
  /** Today as an ISO day. */
  readonly today: string;
}

export interface ScanResult {
  readonly pack: string;
  readonly article: string | null;
  readonly slot: string | null;
  readonly findings: readonly PackFinding[];
}

/**
 * Which pack a label belongs to. With a serial number two scans are one pack; without
 * one they are too, unless somebody says that it is another pack of the same lot.
 */
export function packOf(log: ImplantLog, label: LabelData, isAnother: boolean): string {
  const parts = [label.product ?? '', label.serial ?? '', label.lot ?? ''];
  const base = parts.join('|');
  if (label.serial !== null) return base;
  const same = log.packs.filter(({ id }) => id === base || id.startsWith(`${base}|#`));
  if (same.length === 0) return base;
  if (isAnother) return `${base}|#${same.length + 1}`;
  return same.at(-1)?.id ?? base;
}

/** What a scan finds. */
export function compareScan(
  context: ScanContext,
  label: LabelData,
  isAnother: boolean,
): ScanResult {
  const { catalogue, log } = context;
  const pack = packOf(log, label, isAnother);
  const known = log.packs.find(({ id }) => id === pack) ?? null;
  const article = catalogue && articleOfNumber(catalogue, log.learnt, label.product ?? '');
  const title = article?.title ?? label.product ?? '';
  const date = checkDate(label, title, context.today);
  const used = known ? checkUsed(known, title) : [];
  if (!catalogue) return { pack, article: null, slot: null, findings: [...date, ...used] };
  if (!article) {
    const unknown: PackFinding = {
      code: 'pack-not-known',
      params: { found: label.product ?? '' },
      weight: 'ask',
    };
    return { pack, article: null, slot: null, findings: [unknown, ...date, ...used] };
  }
  const slot = slotFor(catalogue, context, article, known);
  const findings = [
    ...checkSide(context, article),
    ...date,
    ...used,
    ...checkSize(catalogue, context, article, slot),
  ];
  return { pack, article: article.id, slot: slot?.id ?? null, findings };
}

/** The place a pack would take: the one it has, else a free one that asks for it, else a free one of its kind. */
function slotFor(
  catalogue: Catalogue,
  { log, confirmed }: ScanContext,
  article: Article,
  known: Pack | null,
): Slot | null {
  if (known && isTaken(known)) return catalogue.slots.find(({ id }) => id === known.slot) ?? null;
  const taken = new Set(log.packs.filter((pack) => isTaken(pack)).map(({ slot }) => slot));
  const free = catalogue.slots.filter(
    ({ id, component }) => component === article.component && !taken.has(id),
  );
  const asked = free.filter((slot) => Object.keys(slotValues(slot, confirmed)).length > 0);
  return (
    asked.find((slot) => agrees(article, slotValues(slot, confirmed))) ??
    asked[0] ??
    free[0] ??
    null
  );
}

function checkSide({ side }: ScanContext, article: Article): readonly PackFinding[] {
  return article.side === null || article.side === side
    ? []
    : [
        {
          code: 'pack-wrong-side',
          params: { article: article.title, found: article.side, expected: side },
          weight: 'stop',
        },
      ];
}

function checkDate(
  { expiresOn }: LabelData,
  article: string,
  today: string,
): readonly PackFinding[] {
  if (expiresOn === null) return [{ code: 'pack-no-date', params: { article }, weight: 'ask' }];
  // A pack may be used on the day it expires; ISO days compare as text.
  return expiresOn >= today
    ? []
    : [
        {
          code: 'pack-expired',
          params: { article, found: expiresOn, expected: today },
          weight: 'stop',
        },
      ];
}

function checkUsed(pack: Pack, article: string): readonly PackFinding[] {
  return isUsedUp(pack) || pack.state === 'opened'
    ? [{ code: 'pack-used', params: { article, found: pack.state }, weight: 'stop' }]
    : [];
}

function checkSize(
  catalogue: Catalogue,
  { confirmed, side }: ScanContext,
  article: Article,
  slot: Slot | null,
): readonly PackFinding[] {
  if (!slot) return [];
  const known = slotValues(slot, confirmed);
  const breaks = findBreaks(catalogue, slot, article.values, confirmed).map(
    ({ fit, against, againstValue, wouldFit }): PackFinding => ({
      code: 'pack-does-not-fit',
      params: {
        article: article.title,
        found: `${against.title} ${againstValue}`,
        reason: fit.title,
        expected: wouldFit.length > 0 ? wouldFit.join(', ') : 'none of this kind',
      },
      weight: fit.onBreak,
    }),
  );
  if (!agrees(article, known)) {
    const wanted = articleWanted(catalogue, slot, confirmed, side);
    const expected = wanted?.title ?? Object.values(known).join(', ');
    return [
      { code: 'pack-other-size', params: { article: article.title, expected }, weight: 'stop' },
      ...breaks,
    ];
  }
  const isOpen = Object.keys(known).length < Object.keys(slot.from).length;
  return isOpen
    ? [...breaks, { code: 'pack-not-confirmed', params: { article: article.title }, weight: 'ask' }]
    : breaks;
}

/** The title of a pack's article, or its number where the article is not known. */
export function packTitle(catalogue: Catalogue | null, { article, label }: Pack): string {
  const found = catalogue && article !== null ? findArticle(catalogue, article) : null;
  return found?.title ?? label.product ?? 'Unknown pack';
}
