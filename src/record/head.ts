/**
 * What the store keeps beside a case's entries, written in the same transaction: how
 * far the case has come, and what the list needs where entries can't be read. The
 * entries are the truth; a head that says otherwise is itself a finding.
 */
import { CASE_MODES } from '../domain';
import type { CaseMode, Entry } from '../domain';
import { EMPTY_TAIL } from './seal';
import type { Tail } from './seal';

export interface Head extends Tail {
  readonly openedAt: number | null;
  readonly lastAt: number | null;
  readonly mode: CaseMode | null;
  readonly isClosed: boolean;
}

/** The head of a case without entries. */
export const NO_HEAD: Head = {
  ...EMPTY_TAIL,
  openedAt: null,
  lastAt: null,
  mode: null,
  isClosed: false,
};

/** The head after some more entries. */
export function moveHead(head: Head, entries: readonly Entry[], tail: Tail): Head {
  const [first] = entries;
  const last = entries.at(-1);
  if (first === undefined || last === undefined) return { ...head, ...tail };
  const opening = first.type === 'case.opened' ? first.data.mode : null;
  return {
    ...tail,
    openedAt: first.seq === 0 ? first.at : head.openedAt,
    lastAt: last.at,
    mode: head.mode ?? CASE_MODES.find((mode) => mode === opening) ?? null,
    isClosed: head.isClosed || entries.some(({ type }) => type === 'case.closed'),
  };
}
