/** Makes the implants part of the view: packs with their findings, what is open, stock. */
import { fault, faultToOperatorText } from '../../domain';
import type { PackFinding } from '../../domain';
import { contextOf, valueToText } from '../../procedure';
import type { CompiledProcedure } from '../../procedure';
import { listArticles, listShortages, packTitle, reconcile } from '../../sizing';
import type { Catalogue, Chosen, Pack } from '../../sizing';
import type { CaseFacts } from '../case-facts';
import { catalogueOf } from '../implants/implants-orders';
import { viewFace, viewPlan } from './implants-plan-view';
import type { DifferenceView, FindingView, ImplantsView, PackView } from './view-implants';

/** The implants of a case as the screens show them. */
export function viewImplants(compiled: CompiledProcedure, facts: CaseFacts): ImplantsView {
  const { implants: log, state, setup } = facts;
  const catalogue = catalogueOf(compiled, facts);
  const confirmed: Chosen = contextOf(state).confirmed;
  const side = setup?.side ?? 'right';
  const packs = log.packs.map((pack) => viewPack(catalogue, pack));
  const base = {
    packs,
    lastScan: log.lastScan,
    planned: viewPlanned(compiled, facts),
    differences: viewDifferences(compiled, facts),
    ...viewPlan(compiled, facts, catalogue),
    face: viewFace(compiled, facts, catalogue),
  };
  if (!catalogue) {
    return {
      catalogue: null, notScanned: [], notConfirmed: [], unsettled: [], shortages: [], articles: [], ...base,
    }; // prettier-ignore
  }
  const open = reconcile(catalogue, log, confirmed, side);
  const titled = (ids: readonly string[]) =>
    ids.map((id) => packs.find((pack) => pack.id === id)?.title ?? id);
  const filled = new Set(
    log.packs.flatMap(({ slot, state: at }) =>
      slot !== null && (at === 'opened' || at === 'implanted') ? [slot] : [],
    ),
  );
  return {
    ...base,
    catalogue: catalogue.title,
    notScanned: open.notScanned.map(({ title }) => title),
    notConfirmed: titled(open.notConfirmed),
    unsettled: titled(open.unsettled),
    shortages: listShortages(catalogue, log.stock, confirmed, setup?.plan ?? {}, side, filled).map(
      ({ slot, article, isConfirmed }) => ({
        title: article.title,
        place: slot.title,
        isConfirmed,
      }),
    ),
    articles: catalogue.components
      .filter(({ sterilePack, kind }) => sterilePack && kind === 'implant')
      .flatMap((component) => listArticles(component))
      .map(({ id, title }) => ({ id, title, count: log.stock[id] ?? null })),
  };
}

function viewPack(catalogue: Catalogue | null, pack: Pack): PackView {
  const { id, label, slot, state, reason, scans, article } = pack;
  // What is open or in is not stopped by having been opened.
  const findings = pack.findings.filter(
    ({ code }) => code !== 'pack-used' || state !== 'scanned' || scans > 1,
  );
  return {
    id,
    title: packTitle(catalogue, pack),
    place: catalogue?.slots.find((other) => other.id === slot)?.title ?? '',
    state,
    reason,
    scans,
    findings: findings.map(viewFinding),
    isStopped: findings.some(({ weight }) => weight === 'stop'),
    isUnknown: article === null && catalogue !== null,
    label,
  };
}

function viewFinding({ code, params, weight }: PackFinding): FindingView {
  return { code, text: faultToOperatorText(fault(code, params)), weight };
}

/** The sizes that were planned beforehand, in the order of the procedure. */
function viewPlanned(compiled: CompiledProcedure, { setup }: CaseFacts): ImplantsView['planned'] {
  return [...compiled.captures.values()].flatMap((capture) => {
    const value = setup?.plan[capture.id];
    return value === undefined ? [] : [{ label: capture.label, text: valueToText(capture, value) }];
  });
}

/** Settled sizes that are not what was planned, in words; nobody is told off. */
function viewDifferences(
  compiled: CompiledProcedure,
  { state, setup }: CaseFacts,
): readonly DifferenceView[] {
  const { confirmed } = contextOf(state);
  return [...compiled.captures.values()].flatMap((capture) => {
    const [planned, settled] = [setup?.plan[capture.id], confirmed[capture.id]];
    if (planned === undefined || settled === undefined || planned === settled) return [];
    return [
      {
        label: capture.label,
        planned: valueToText(capture, planned),
        settled: valueToText(capture, settled),
      },
    ];
  });
}
