/**
 * Many cases as columns: of each digest what filters, sums and charts need, as numbers
 * and as codes of words. A cache of the digests, made again from them at any time;
 * exports use the digests themselves. A case that comes again takes the place of the
 * one before.
 */
import { MILESTONES } from '../../domain';
import type { CaseId, Milestone } from '../../domain';
import { DIGEST_VERSION } from '../digest/case-digest';
import type { CaseDigest } from '../digest/case-digest';
import { Numbers } from './numbers';
import { Words } from './words';

/** A place in the table. */
export type Row = number;

/** Flags of a case. */
const FLAGS = { estimated: 1, abandoned: 2, cards: 4 } as const;
/** Lists of a case: where each begins; what stands in it is in columns beside. */
const LISTS = ['roles', 'alternatives', 'phases', 'holds', 'overrides', 'refused', 'speech'] as const; // prettier-ignore
type List = (typeof LISTS)[number];

const NAMED = Object.keys(MILESTONES) as Milestone[];

const u32 = () => new Numbers('u32');
const f64 = () => new Numbers('f64');
const u8 = () => new Numbers('u8');

/** Empty columns of a table, by name. */
export function makeColumns() {
  return {
    version: u32(), mode: u32(), side: u32(), procedure: u32(), title: u32(), flags: u8(),
    openedAt: f64(), closedAt: f64(), totalMs: f64(), theatre: u32(),
    /** Wall times of the named times; NaN where one was not marked. */
    PIR: f64(), AS: f64(), AR: f64(), PS: f64(), PC: f64(), PST: f64(), PCB: f64(), PF: f64(), POR: f64(),
    offered: u32(), confirmed: u32(), corrected: u32(), lapsed: u32(),
    'from.roles': u32(), 'from.alternatives': u32(), 'from.phases': u32(), 'from.holds': u32(),
    'from.overrides': u32(), 'from.refused': u32(), 'from.speech': u32(),
    role: u32(), alternative: u32(),
    /** A phase's kind is the word of its track, id, title and usual time; see `phaseKindOf`. */
    phaseKind: u32(), phaseMs: f64(), phaseFirstMs: f64(), phasePasses: u32(), phaseIsWhole: u8(),
    holdReason: u32(), holdMs: f64(), override: u32(), refusedAt: u32(),
    /** The word of person and phrase, with a line break between. */
    speechOf: u32(), attempts: u32(), first: u32(),
  } satisfies Record<string, Numbers> & Record<Milestone, Numbers>; // prettier-ignore
}

export type Columns = ReturnType<typeof makeColumns>;

/** What the word of a phase's kind says. */
export interface PhaseKind {
  readonly track: string;
  readonly phase: string;
  readonly title: string;
  readonly usualMs: number | null;
}

const LENGTH_OF: Readonly<Record<List, keyof Columns>> = {
  roles: 'role', alternatives: 'alternative', phases: 'phaseKind', holds: 'holdMs',
  overrides: 'override', refused: 'refusedAt', speech: 'speechOf',
}; // prettier-ignore

export class CaseTable {
  readonly columns: Columns = makeColumns();
  readonly words: Words;
  readonly caseIds: CaseId[];
  readonly #rows = new Map<string, Row>();
  #order: readonly Row[] | null = null;

  /** Empty, or over what was kept. */
  constructor(kept?: { columns: Columns; words: readonly string[]; caseIds: readonly CaseId[] }) {
    this.words = new Words(kept?.words);
    this.caseIds = [...(kept?.caseIds ?? [])];
    if (kept) this.columns = kept.columns;
    // Of a case that came twice the later row stands.
    for (const [row, caseId] of this.caseIds.entries()) this.#rows.set(caseId, row);
  }

  static of(digests: readonly CaseDigest[]): CaseTable {
    const table = new CaseTable();
    for (const digest of digests) table.add(digest);
    return table;
  }

  /** How many cases there are. */
  get count(): number {
    return this.#rows.size;
  }

  /** Whether a case is there, as this version of the program makes it. */
  isCurrent(caseId: CaseId): boolean {
    const row = this.#rows.get(caseId);
    return row !== undefined && this.columns.version.at(row) === DIGEST_VERSION;
  }

  has(caseId: CaseId): boolean {
    return this.#rows.has(caseId);
  }

  /** All cases, the oldest first. */
  get order(): readonly Row[] {
    const { openedAt } = this.columns;
    this.#order ??= [...this.#rows.values()].sort((a, b) => openedAt.at(a) - openedAt.at(b));
    return this.#order;
  }

  /** Where a list of a case begins, and where it ends. */
  spanOf(list: List, row: Row): { readonly from: number; readonly to: number } {
    const starts = this.columns[`from.${list}`];
    const to = row + 1 < starts.length ? starts.at(row + 1) : this.columns[LENGTH_OF[list]].length;
    return { from: starts.at(row), to };
  }

  is(row: Row, flag: keyof typeof FLAGS): boolean {
    return (this.columns.flags.at(row) & FLAGS[flag]) !== 0;
  }

  add(digest: CaseDigest): void {
    this.#rows.set(digest.caseId, this.caseIds.length);
    this.#order = null;
    this.caseIds.push(digest.caseId);
    this.#addCase(digest);
    for (const list of LISTS) this.columns[`from.${list}`].push(this.columns[LENGTH_OF[list]].length); // prettier-ignore
    this.#addLists(digest);
  }

  #addCase(digest: CaseDigest): void {
    const { columns: it, words } = this;
    const { readBacks, named } = digest;
    it.version.push(digest.version);
    it.mode.push(words.codeOf(digest.mode));
    it.side.push(words.codeOf(digest.side));
    it.procedure.push(words.codeOf(digest.procedureId));
    it.title.push(words.codeOf(digest.procedure));
    it.flags.push(
      (digest.isEstimated ? FLAGS.estimated : 0) +
        (digest.outcome === 'abandoned' ? FLAGS.abandoned : 0) +
        (digest.hasVoiceCards ? FLAGS.cards : 0),
    );
    it.openedAt.push(digest.openedAt);
    it.closedAt.push(digest.closedAt ?? NaN);
    it.totalMs.push(digest.totalMs);
    it.theatre.push(words.codeOf(digest.theatre ?? ''));
    for (const code of NAMED) it[code].push(named[code] ?? NaN);
    for (const what of ['offered', 'confirmed', 'corrected', 'lapsed'] as const)
      it[what].push(readBacks[what]);
  }

  #addLists(digest: CaseDigest): void {
    const { columns: it, words } = this;
    for (const role of digest.roles) it.role.push(words.codeOf(role));
    for (const label of digest.alternatives) it.alternative.push(words.codeOf(label));
    for (const phase of digest.phases) {
      const { track, phase: id, title, usualMs, passesMs } = phase;
      it.phaseKind.push(words.codeOf(JSON.stringify([track, id, title, usualMs])));
      it.phaseMs.push(phase.totalMs);
      it.phaseFirstMs.push(passesMs[0] ?? NaN);
      it.phasePasses.push(passesMs.length);
      it.phaseIsWhole.push(phase.isWhole ? 1 : 0);
    }
    for (const { reason, ms } of digest.holds) {
      it.holdReason.push(words.codeOf(reason));
      it.holdMs.push(ms);
    }
    for (const { holdPoint, reason } of digest.overrides)
      it.override.push(words.codeOf(`${holdPoint}: ${reason}`));
    for (const holdPoint of digest.refusedAt) it.refusedAt.push(words.codeOf(holdPoint));
    for (const { person, phrase, attempts, first } of digest.speech) {
      it.speechOf.push(words.codeOf(`${person}\n${phrase}`));
      it.attempts.push(attempts);
      it.first.push(first);
    }
  }

  /** What the code of a phase's kind stands for. */
  phaseKindOf(code: number): PhaseKind {
    const [track, phase, title, usualMs] = JSON.parse(this.words.textOf(code)) as [string, string, string, number | null]; // prettier-ignore
    return { track, phase, title, usualMs };
  }
}
