/**
 * A running fold over the entries of one case: the machine's state beside the few
 * things that a screen needs and the machine must not hold, such as the time of a
 * read-back. Made by replay, moved by one entry at a time.
 */
import type {
  CaptureId, CaseCards, CaseOutcome, CaseSetup, ConditionState, CountId, CountItemId, Entry, Fault, HoldPointId, Milestone, PhaseId,
  RoleId, Stamp, StepId, TallyId,
} from '../domain'; // prettier-ignore
import { addToCards, fault, NO_CARDS } from '../domain';
import { applyFact, contextOf, initialState, isAccepted } from '../procedure';
import type { CaseState, CompiledProcedure } from '../procedure';
import { addToImplantLog, emptyImplantLog } from '../sizing';
import type { ImplantLog } from '../sizing';
import { addToMoves, noMoves } from './last-move';
import type { Moves } from './last-move';
import { isSaidAgain } from './refused-orders';
import { addToTimers } from './timer-facts';
import type { TimerFacts } from './timer-facts';

export interface RefusalFact {
  readonly seq: number;
  readonly at: Stamp;
  readonly fault: Fault;
  readonly holdPoint: HoldPointId | null;
  readonly conditions: readonly ConditionState[];
}

/** When a read-back was last asked about, and how often that was asked anew because an answer was not made out. */
interface AskedAt {
  readonly since: Stamp;
  readonly anew: number;
}

export interface CaseFacts {
  readonly state: CaseState;
  readonly setup: CaseSetup | null;
  readonly openedAt: Stamp | null;
  readonly closed: { readonly at: Stamp; readonly outcome: CaseOutcome } | null;
  /** When each phase was first entered. */
  readonly phaseSince: Readonly<Record<PhaseId, Stamp>>;
  readonly stepSince: Readonly<Record<StepId, Stamp>>;
  readonly rounds: Readonly<Record<StepId, number>>;
  /** From when the time of the latest read-back counts; null before the first. */
  readonly askedAt: AskedAt | null;
  readonly clockHold: { readonly reason: string; readonly since: Stamp } | null;
  readonly overrideWhy: string;
  readonly milestones: readonly { readonly milestone: Milestone; readonly at: Stamp }[];
  /** Newest last, the latest twenty. */
  readonly refusals: readonly RefusalFact[];
  readonly lastHeard: {
    readonly seq: number;
    readonly at: Stamp;
    readonly words: string | null;
  } | null;
  /** The refusal at a hold point that nothing has followed yet. */
  readonly heldAttempt: RefusalFact | null;
  /** What came of the last thing that was heard. */
  readonly lastOutcome: 'done' | 'refused' | 'not-understood' | null;
  /** The size that was asked for last, until something else happens. */
  readonly asked: CaptureId | null;
  /** What could be taken back. */
  readonly moves: Moves;
  /** What that would put back, beside the machine's state. */
  readonly restorable: Restorable;
  readonly timers: TimerFacts;
  readonly tallies: Readonly<Record<TallyId, number>>;
  /** The latest number of each item in each count; null where only a difference was told. */
  readonly countValues: Readonly<Record<CountId, Readonly<Record<CountItemId, number | null>>>>;
  /** Who has each role now, where it was handed over. */
  readonly roles: Readonly<Record<RoleId, string>>;
  /** Whose voice cards the listeners learn from, and learnt from before. */
  readonly cards: CaseCards;
  /** Packs, labels, counted stock and the planning sheet. */
  readonly implants: ImplantLog;
  readonly count: number;
}

/** Facts that an order taken back must give back as they were before it. */
type Before = Pick<CaseFacts, 'rounds' | 'stepSince' | 'phaseSince' | 'countValues' | 'roles'>;

/** The facts before the order whose entries are coming in, and before the last that can be taken back. */
interface Restorable {
  readonly batch: Before | null;
  readonly last: Before | null;
}

/** How often does the time of a read-back begin anew? It must not wait for ever while people talk. */
const MOST_ANEW = 2;

/** How many refusals the desk can look back on; the record keeps them all. */
const REFUSALS_KEPT = 20;

/** Facts before the first entry. */
export function noFacts(compiled: CompiledProcedure): CaseFacts {
  const state = initialState(compiled);
  return {
    state,
    setup: null,
    openedAt: null,
    closed: null,
    phaseSince: {},
    stepSince: {},
    rounds: {},
    askedAt: null,
    clockHold: null,
    overrideWhy: '',
    milestones: [],
    refusals: [],
    lastHeard: null,
    heldAttempt: null,
    lastOutcome: null,
    asked: null,
    moves: noMoves(state),
    restorable: { batch: null, last: null },
    timers: {},
    tallies: {},
    countValues: {},
    roles: {},
    cards: NO_CARDS,
    implants: emptyImplantLog(),
    count: 0,
  };
}

/** Facts after one more entry. Throws where the machine does not take it: the record is not this procedure's. */
export function addEntry(compiled: CompiledProcedure, facts: CaseFacts, entry: Entry): CaseFacts {
  if (!isAccepted(facts.state, entry)) {
    throw new Error(`Entry ${entry.seq} ("${entry.type}") does not follow from those before it`);
  }
  const moves = addToMoves(facts.moves, facts.state, entry);
  return {
    ...facts,
    ...changesOf(compiled, facts, entry),
    moves,
    restorable: restorableAfter(facts, moves),
    timers: addToTimers(facts.timers, entry, stampOf(entry)),
    cards: addToCards(facts.cards, entry),
    implants: addToImplantLog(facts.implants, entry),
    state: applyFact(compiled, facts.state, entry),
    count: facts.count + 1,
  };
}

function restorableAfter(facts: CaseFacts, moves: Moves): Restorable {
  const isNew = facts.restorable.batch === null || moves.since !== facts.moves.since;
  const batch = isNew ? beforeOf(facts) : facts.restorable.batch;
  if (!moves.last) return { batch, last: null };
  return { batch, last: moves.last.since === moves.since ? batch : facts.restorable.last };
}

function beforeOf({ rounds, stepSince, phaseSince, countValues, roles }: CaseFacts): Before {
  return { rounds, stepSince, phaseSince, countValues, roles };
}

/** The stamp of an entry. */
export function stampOf({ at, mono, run }: Stamp): Stamp {
  return { at, mono, run };
}

function changesOf(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  entry: Entry,
): Partial<CaseFacts> {
  const at = stampOf(entry);
  switch (entry.type) {
    case 'case.opened':
      return { setup: entry.data, openedAt: at };
    case 'case.closed':
      return { closed: { at, outcome: entry.data.outcome }, ...done };
    case 'step.begun': {
      const { step } = entry.data;
      const phase = compiled.steps.get(step)?.phase;
      return {
        phaseSince:
          phase && !(phase in facts.phaseSince)
            ? { ...facts.phaseSince, [phase]: at }
            : facts.phaseSince,
        stepSince: { ...facts.stepSince, [step]: at },
        rounds: { ...facts.rounds, [step]: (facts.rounds[step] ?? 0) + 1 },
        ...done,
      };
    }
    case 'capture.offered':
      return { askedAt: { since: at, anew: 0 }, ...done };
    case 'clock.held':
      return { clockHold: { reason: entry.data.reason, since: at }, ...done };
    case 'clock.resumed':
      return { clockHold: null, ...done };
    case 'override.requested':
      return { overrideWhy: entry.data.reason };
    case 'milestone.reached':
      return { milestones: [...facts.milestones, { milestone: entry.data.milestone, at }] };
    case 'tally.added': {
      const { tally, by } = entry.data;
      const total = Math.max(0, (facts.tallies[tally] ?? 0) + by);
      return { tallies: { ...facts.tallies, [tally]: total }, ...done };
    }
    case 'count.recorded': {
      const { count, item, value } = entry.data;
      const values = { ...facts.countValues[count], [item]: value };
      return { countValues: { ...facts.countValues, [count]: values }, ...done };
    }
    case 'role.handedOver':
      return { roles: { ...facts.roles, [entry.data.role]: entry.data.label }, ...done };
    case 'question.asked':
      return { ...done, asked: entry.data.capture ?? null };
    case 'order.undone':
      return { ...facts.restorable.last, ...done };
    case 'phrase.heard':
      return {
        lastHeard: { seq: entry.seq, at, words: entry.data.words },
        lastOutcome: entry.data.words === null ? 'not-understood' : 'done',
      };
    case 'order.refused':
      return refused(facts, entry.seq, at, entry.data);
    case 'run.resumed':
    case 'record.mended':
    case 'timer.due':
      return {};
    default:
      return done;
  }
}

/** Whatever was carried out ends the large display of an earlier refusal. */
const done = { heldAttempt: null, lastOutcome: 'done', asked: null } as const;

function refused(
  facts: CaseFacts,
  seq: number,
  at: Stamp,
  data: Extract<Entry, { type: 'order.refused' }>['data'],
): Partial<CaseFacts> {
  const refusal: RefusalFact = {
    seq,
    at,
    fault: fault(data.code, data.params),
    holdPoint: data.holdPoint,
    conditions: data.conditions,
  };
  return {
    refusals: [...facts.refusals, refusal].slice(-REFUSALS_KEPT),
    heldAttempt: data.holdPoint ? refusal : facts.heldAttempt,
    lastOutcome: data.code === 'phrase-not-understood' ? 'not-understood' : 'refused',
    ...(isSaidAgain(data.code) && { askedAt: askAnew(facts, at) }),
  };
}

/** Whoever is asked to say it again gets the time to do so: what is read back must not lapse over it. */
function askAnew({ askedAt, state }: CaseFacts, at: Stamp): AskedAt | null {
  if (!askedAt || !contextOf(state).offered || askedAt.anew >= MOST_ANEW) return askedAt;
  return { since: at, anew: askedAt.anew + 1 };
}
