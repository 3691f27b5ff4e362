/**
 * The wall of an invented case: what happens there is decided by the real machine and
 * becomes entries, so a demo case opens, replays and exports like any other. Time is
 * counted, never waited for.
 */
import { ENTRY_VERSION, isImplantOrder, toEntry } from '../../domain';
import type {
  CaseId, CaseSetup, Entry, Fact, Milestone, Order, RoomOrder, RunId, Source, TrackId,
} from '../../domain'; // prettier-ignore
import { decide, decideOpening, positionOf } from '../../procedure';
import type { CompiledProcedure, Position, Step } from '../../procedure';
import { CaseLog } from '../kept/case-log';
import { decideOnImplants } from '../implants/implants-orders';
import { comparePacks } from '../implants/packs-compared';

/** A demo case says no address phrase and nothing lapses by a timer. */
const SETTINGS = { addressPhrase: '', lapseMs: Infinity };

export class DemoWall {
  readonly log: CaseLog;
  /** Since the opening, in milliseconds. */
  ms = 0;
  readonly #run: RunId;

  constructor(
    readonly compiled: CompiledProcedure,
    private readonly caseId: CaseId,
    readonly startAt: number,
  ) {
    this.log = new CaseLog(caseId, compiled, SETTINGS);
    this.#run = `${caseId}-run` as RunId;
  }

  get entries(): readonly Entry[] {
    return this.log.entriesFrom(0);
  }

  open(setup: CaseSetup): void {
    this.#add({ type: 'case.opened', data: setup }, 'desk');
    for (const fact of decideOpening(this.compiled, this.log.facts.state)) this.#add(fact, 'wall');
  }

  /** Carries an order out; false where the machine refuses it. Nothing is recorded then. */
  order(order: Order, source: Source): boolean {
    const decided = decide(this.compiled, this.log.facts.state, order, source);
    if (!decided.ok) return false;
    for (const { fact, isConsequence } of decided.value) {
      this.#add(fact, isConsequence ? 'wall' : source);
    }
    this.#comparePacks();
    return true;
  }

  /** Whether the machine would carry an order out. */
  allows(order: Order, source: Source): boolean {
    return decide(this.compiled, this.log.facts.state, order, source).ok;
  }

  /** Scans or moves a pack; what the wall makes of it follows at once. */
  orderPack(order: RoomOrder): boolean {
    if (!isImplantOrder(order)) return false;
    const at = this.startAt + this.ms;
    const source = order.type === 'label.scan' ? 'scanner' : 'desk';
    const decided = decideOnImplants(this.compiled, this.log.facts, order, source, at);
    if (!decided.ok) return false;
    for (const { fact } of decided.value) this.#add(fact, source);
    this.#comparePacks();
    return true;
  }

  /** Somebody spoke; null where the wall made no words of it, which it says. */
  hear(words: string | null): void {
    const score = words === null ? 0 : 0.9;
    const data = { words, score, listener: 'demo', speechMs: 900, decisionMs: 180 };
    this.#add({ type: 'phrase.heard', data }, 'voice');
    if (words !== null) return;
    const code = 'phrase-not-understood';
    const refused = { order: null, code, params: {}, holdPoint: null, conditions: [] } as const;
    this.#add({ type: 'order.refused', data: refused }, 'voice');
  }

  /** Marks a named time at the desk, unless a step of the case has marked it. */
  mark(milestone: Milestone): void {
    if (this.log.facts.milestones.some((it) => it.milestone === milestone)) return;
    this.order({ type: 'milestone.mark', milestone }, 'desk');
  }

  positionOf(track: TrackId): Position {
    return positionOf(this.compiled, this.log.facts.state, track);
  }

  isDoing(track: TrackId, step: Step): boolean {
    const position = this.positionOf(track);
    return position.kind === 'doing' && position.step.id === step.id;
  }

  #comparePacks(): void {
    for (const fact of comparePacks(this.compiled, this.log.facts)) this.#add(fact, 'wall');
  }

  #add(fact: Fact, source: Source): void {
    const head = {
      caseId: this.caseId,
      seq: this.log.count,
      source,
      version: ENTRY_VERSION,
      at: Math.round(this.startAt + this.ms),
      mono: Math.round(this.ms),
      run: this.#run,
    };
    this.log.add([toEntry(head, fact)]);
  }
}
