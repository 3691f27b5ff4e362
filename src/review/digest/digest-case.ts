/** From the entries of one case to its digest. A fold; nothing is read but what is given. */
import { addToCards, cardsEver, NO_CARDS } from '../../domain';
import type { Entry, FactOf, Outline, Stamp } from '../../domain';
import { CaseAxis } from '../case-axis';
import { foldTimes, spanElapsed } from '../durations';
import { listOverrides } from '../incidents';
import { listNamedTimes } from '../named-times';
import { foldSizes } from '../size-history';
import { DIGEST_VERSION } from './case-digest';
import type { CaseDigest } from './case-digest';
import { digestPhases } from './digest-phases';
import { digestSpeech } from './digest-speech';

/** The digest; null where the opening entry is missing. An open case lasts until its last entry. */
export function digestCase(entries: readonly Entry[], outline: Outline): CaseDigest | null {
  const [opening] = entries;
  const last = entries.at(-1);
  if (opening?.type !== 'case.opened' || !last) return null;
  const { data: setup } = opening;
  const times = foldTimes(entries, outline);
  const axis = new CaseAxis(entries);
  const end: Stamp = times.closedAt ?? last;
  const closing = entries.find(isClosing);
  const sizes = foldSizes(entries);
  const total = (of: (size: (typeof sizes)[number]) => number) =>
    sizes.reduce((sum, size) => sum + of(size), 0);
  return {
    version: DIGEST_VERSION,
    caseId: opening.caseId,
    mode: setup.mode,
    procedureId: setup.procedureId,
    procedure: outline.title,
    side: setup.side,
    theatre: setup.theatre ?? null,
    roles: setup.roles.map(({ label }) => label),
    openedAt: opening.at,
    closedAt: closing?.at ?? null,
    outcome: closing?.data.outcome ?? null,
    totalMs: axis.positionOf(end),
    isEstimated: entries.some(({ run }) => run !== opening.run),
    entryCount: entries.length,
    hasVoiceCards: cardsEver(entries.reduce(addToCards, NO_CARDS)).length > 0,
    speech: digestSpeech(entries, outline),
    alternatives: listAlternatives(entries, outline),
    phases: digestPhases(times, outline, axis, end),
    holds: times.clockHolds.map((hold) => ({
      reason: hold.reason,
      ms: spanElapsed(hold, end).ms,
    })),
    overrides: listOverrides(entries)
      .filter(({ outcome }) => outcome === 'granted')
      .map(({ holdPoint, reason }) => ({ holdPoint: titleOf(outline, holdPoint), reason })),
    refusedAt: times.marks.flatMap(({ kind, holdPoint }) =>
      kind === 'refusal' && holdPoint ? [titleOf(outline, holdPoint)] : [],
    ),
    readBacks: {
      offered: total(({ offers }) => offers),
      confirmed: total(({ confirmed }) => confirmed),
      corrected: total(({ corrected }) => corrected),
      lapsed: total(({ lapsed }) => lapsed),
    },
    named: Object.fromEntries(listNamedTimes(entries).map(({ code, at }) => [code, at.at])),
  };
}

/** What a hold point is called; its id where the procedure has none of that id. */
function titleOf({ holdPoints }: Outline, id: string): string {
  return holdPoints.find((point) => point.id === id)?.title ?? id;
}

/** Alternatives taken and not taken back, by what the team calls them. */
function listAlternatives(entries: readonly Entry[], outline: Outline): readonly string[] {
  const chosen: (Entry & FactOf<'alternative.chosen'>)[] = [];
  for (const entry of entries) {
    if (entry.type === 'alternative.chosen') chosen.push(entry);
    if (entry.type !== 'order.undone') continue;
    while ((chosen.at(-1)?.seq ?? -1) >= entry.data.since) chosen.pop();
  }
  return chosen.map(
    ({ data }) =>
      outline.alternatives.find(({ id }) => id === data.alternative)?.label ?? data.alternative,
  );
}

function isClosing(entry: Entry): entry is Entry & FactOf<'case.closed'> {
  return entry.type === 'case.closed';
}
