/** Which cases are looked at together. Real, rehearsed and demo cases are never mixed. */
import type { CaseMode, Side } from '../../domain';
import type { CaseDigest } from '../digest/case-digest';

/** What is asked for; null asks for nothing in particular. */
export interface CaseFilter {
  readonly mode: CaseMode;
  readonly procedureId: string | null;
  readonly side: Side | null;
  /** Role label. */
  readonly role: string | null;
  /** Wall times in milliseconds, the second one not included. */
  readonly from: number | null;
  readonly to: number | null;
  readonly alternative: string | null;
  readonly cards: 'with' | 'without' | null;
}

/** What can be asked for, from the cases that there are. */
export interface FilterChoices {
  readonly modes: readonly CaseMode[];
  readonly procedures: readonly { readonly id: string; readonly title: string }[];
  readonly roles: readonly string[];
  readonly alternatives: readonly string[];
}

/** The cases that a filter lets through, oldest first. Only closed cases are looked back on. */
export function filterCases(
  digests: readonly CaseDigest[],
  filter: CaseFilter,
): readonly CaseDigest[] {
  return digests.filter((digest) => passes(digest, filter)).sort((a, b) => a.openedAt - b.openedAt);
}

function passes(digest: CaseDigest, filter: CaseFilter): boolean {
  const { mode, from, to, role, alternative, cards } = filter;
  return (
    digest.closedAt !== null &&
    digest.mode === mode &&
    isSetUpAs(digest, filter) &&
    digest.openedAt >= (from ?? -Infinity) &&
    digest.openedAt < (to ?? Infinity) &&
    (role === null || digest.roles.includes(role)) &&
    (alternative === null || digest.alternatives.includes(alternative)) &&
    (cards === null || digest.hasVoiceCards === (cards === 'with'))
  );
}

function isSetUpAs(digest: CaseDigest, { procedureId, side }: CaseFilter): boolean {
  return (
    digest.procedureId === (procedureId ?? digest.procedureId) &&
    digest.side === (side ?? digest.side)
  );
}

/** The choices, in the order of the alphabet; modes with real cases first. */
export function listChoices(digests: readonly CaseDigest[]): FilterChoices {
  const procedures = new Map(
    digests.map(({ procedureId, procedure }) => [procedureId as string, procedure]),
  );
  const modes = new Set(digests.map(({ mode }) => mode));
  return {
    modes: (['real', 'rehearsal', 'demo'] as const).filter((mode) => modes.has(mode)),
    procedures: [...procedures].map(([id, title]) => ({ id, title })),
    roles: [...new Set(digests.flatMap(({ roles }) => roles))].sort(),
    alternatives: [...new Set(digests.flatMap(({ alternatives }) => alternatives))].sort(),
  };
}
