/** Invented entries for tests of the record. No clock, no chance: the same call gives the same entry. */
import { ENTRY_VERSION, asId } from '../../src/domain';
import type { CaseId, CaseMode, Entry, Fact } from '../../src/domain';

/** The case that most tests write to. */
export const CASE_A: CaseId = asId('case-a');
export const CASE_B: CaseId = asId('case-b');

/** Noon of an invented day, in milliseconds since 1970-01-01 UTC. */
export const DAY_MS = Date.UTC(2031, 2, 14, 12, 0, 0);

/** Puts a head around a fact: one second passes with each position. */
export function makeEntry(caseId: CaseId, seq: number, fact: Fact): Entry {
  const head = {
    caseId,
    seq,
    at: DAY_MS + seq * 1000,
    mono: seq * 1000,
    run: asId<Entry['run']>('run-1'),
    source: 'desk' as const,
    version: ENTRY_VERSION,
  };
  return { ...head, ...fact };
}

/** The first entry of a case. */
export function makeOpening(caseId: CaseId, mode: CaseMode = 'demo', openedAt = DAY_MS): Entry {
  const opening = makeEntry(caseId, 0, {
    type: 'case.opened',
    data: {
      procedureId: asId('example-procedure'),
      procedure: { id: 'example-procedure', title: 'Example operation' },
      mode,
      side: 'left',
      roles: [{ role: 'surgeon', label: 'Surgeon A' }],
      plan: { 'wedge-angle': 16 },
    },
  });
  return { ...opening, at: openedAt };
}

/** A depth offered at a position; `value` tells entries apart. */
export function makeOffer(caseId: CaseId, seq: number, value: number): Entry {
  return makeEntry(caseId, seq, {
    type: 'capture.offered',
    data: { capture: asId('depth'), value },
  });
}

/** A case of `count` entries, opening included. */
export function makeCase(caseId: CaseId, count: number): Entry[] {
  return Array.from({ length: count }, (_, seq) =>
    seq === 0 ? makeOpening(caseId) : makeOffer(caseId, seq, seq),
  );
}
