/**
 * Decides what an order about packs, labels or the planning sheet means now: the facts
 * that follow, or why it is refused. The label has been read already.
 */
import { assertNever, err, fault, faultToOperatorText, ok } from '../../domain';
import type {
  Fault,
  ImplantFact,
  ImplantOrder,
  LabelData,
  PackEvent,
  Result,
  Source,
} from '../../domain';
import { findArticle } from '../catalogue/articles';
import { checkOrientation } from '../orientation';
import { compareScan } from './scan';
import type { ScanContext } from './scan';
import type { Pack, PackState } from './log';

/** What may follow what. An opened pack can't be returned: it is no longer sterile. */
const NEXT: Readonly<Record<PackState, readonly PackEvent[]>> = {
  scanned: ['opened', 'returned'],
  opened: ['implanted', 'wasted'],
  implanted: ['wasted'],
  wasted: [],
  returned: ['opened'],
};

type Facts = Result<readonly ImplantFact[], Fault>;

/** The facts that an order leads to. `label` is what a scan's text was read as. */
export function decideImplantOrder(
  context: ScanContext,
  order: ImplantOrder,
  source: Source,
  label: LabelData | null,
): Facts {
  if (source === 'voice' || source === 'pedal') {
    return err(fault('pack-only-at-desk', { order: order.type, source }));
  }
  const decided = decide(context, order, label);
  const needsCatalogue =
    order.type !== 'angles.plan' && context.log.catalogue === null && context.catalogue;
  return decided.ok && needsCatalogue
    ? ok([{ type: 'catalogue.adopted', data: { catalogue: context.catalogue } }, ...decided.value])
    : decided;
}

function decide(context: ScanContext, order: ImplantOrder, label: LabelData | null): Facts {
  switch (order.type) {
    case 'angles.plan':
      return planAngles(order);
    case 'stock.count':
      return countStock(context, order);
    case 'label.scan':
      return label
        ? ok([
            {
              type: 'label.scanned',
              data: { ...compareScan(context, label, order.isAnother), label },
            },
          ])
        : err(fault('label-empty', { at: '1' }));
    case 'label.learn':
      return learn(context, order);
    case 'pack.move':
      return move(context, order);
    default:
      return assertNever(order);
  }
}

function planAngles({ plan }: Extract<ImplantOrder, { type: 'angles.plan' }>): Facts {
  const native = { versionDeg: plan.nativeVersionDeg, inclinationDeg: plan.nativeInclinationDeg };
  const target = { versionDeg: plan.targetVersionDeg, inclinationDeg: plan.targetInclinationDeg };
  for (const angles of [native, target]) {
    const checked = checkOrientation(angles);
    if (!checked.ok) return checked;
  }
  const { allowedErrorDeg } = plan;
  return allowedErrorDeg !== null && !(allowedErrorDeg > 0 && allowedErrorDeg < 90)
    ? err(fault('angle-not-usable', { label: 'Allowed error', value: String(allowedErrorDeg) }))
    : ok([{ type: 'angles.planned', data: { plan } }]);
}

function countStock(
  { catalogue }: ScanContext,
  { article, count }: Extract<ImplantOrder, { type: 'stock.count' }>,
): Facts {
  if (!catalogue) return err(fault('catalogue-missing'));
  const found = findArticle(catalogue, article);
  if (!found) return err(fault('unknown-name', { name: article }));
  return Number.isInteger(count) && count >= 0 && count <= 999
    ? ok([{ type: 'stock.counted', data: { article, count } }])
    : err(fault('stock-not-usable', { article: found.title, found: String(count) }));
}

/** Learning a number also judges the packs that carry it anew. */
function learn(
  context: ScanContext,
  { product, article }: Extract<ImplantOrder, { type: 'label.learn' }>,
): Facts {
  if (!context.catalogue) return err(fault('catalogue-missing'));
  if (!findArticle(context.catalogue, article))
    return err(fault('unknown-name', { name: article }));
  const log = { ...context.log, learnt: { ...context.log.learnt, [product]: article } };
  const again = context.log.packs
    .filter((pack) => pack.label.product === product && pack.state === 'scanned')
    .map(({ id, label }): ImplantFact => ({
      type: 'label.scanned',
      data: { ...compareScan({ ...context, log }, label, false), pack: id, label },
    }));
  return ok([{ type: 'label.learned', data: { product, article } }, ...again]);
}

function move(
  context: ScanContext,
  { pack: id, event, reason }: Extract<ImplantOrder, { type: 'pack.move' }>,
): Facts {
  const pack = context.log.packs.find((other) => other.id === id);
  if (!pack) return err(fault('pack-unknown', { pack: id }));
  if (!NEXT[pack.state].includes(event)) {
    return err(fault('pack-not-so', { pack: id, found: pack.state, expected: event }));
  }
  const why = reason.trim();
  if (event === 'wasted' && why === '') return err(fault('pack-needs-reason'));
  const slot = event === 'opened' ? null : pack.slot;
  if (event !== 'opened')
    return ok([{ type: 'pack.moved', data: { pack: id, event, slot, reason: why } }]);
  const now = compareScan(context, pack.label, false);
  const stop = stopping(now.findings);
  return stop && why === ''
    ? err(fault('pack-stopped', { pack: id, reason: stop }))
    : ok([{ type: 'pack.moved', data: { pack: id, event, slot: now.slot, reason: why } }]);
}

/** Why a pack is stopped, as a person reads it; sizes may have been confirmed since the scan. */
function stopping(findings: Pack['findings']): string | null {
  const stop = findings.find(({ weight, code }) => weight === 'stop' && code !== 'pack-used');
  return stop ? faultToOperatorText(fault(stop.code, stop.params)).happened : null;
}
