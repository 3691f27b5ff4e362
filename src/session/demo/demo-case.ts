/**
 * One invented case, played through the real machine: every entry is one that the
 * machine took, so a demo case opens, replays and exports like any other. Time is
 * counted, never waited for. The mode is "demo" from the first entry on.
 */
import { ENTRY_VERSION, isImplantOrder, toEntry } from '../../domain';
import type {
  CaptureValue, CaseId, CaseSetup, Entry, Fact, Order, RoomOrder, RunId, Source, TrackId,
} from '../../domain'; // prettier-ignore
import {
  asksForPacks,
  contextOf,
  decide,
  decideOpening,
  isOpen,
  listLegalValues,
  positionOf,
  wordsForValue,
} from '../../procedure';
import type { Capture, CompiledProcedure, Step } from '../../procedure';
import type { Random } from '../../review';
import { CaseLog } from '../case-log';
import { catalogueOf, decideOnImplants } from '../implants-orders';
import { viewImplants } from '../implants-view';
import { comparePacks } from '../packs-compared';
import { fetchOrders } from '../rehearsal/packs';
import { HABITS, phaseFactor, stepMinutes } from './habits';
import type { DemoShift } from './habits';

const SECOND_MS = 1000;
const MINUTE_MS = 60_000;
/** More than any case needs; a procedure that an invented team can't finish ends as abandoned. */
const MOST_MOVES = 800;
/** More packs than a case opens. */
const MOST_PACKS = 40;
/** A demo case says no address phrase and nothing lapses by a timer. */
const SETTINGS = { addressPhrase: '', lapseMs: Infinity };

export interface DemoPlan {
  readonly caseId: CaseId;
  readonly setup: CaseSetup;
  readonly startAt: number;
  /** Place among the team's cases, from 0. */
  readonly place: number;
  readonly shift: DemoShift | null;
}

/** Plays one case; gives its entries. */
export function playDemoCase(
  compiled: CompiledProcedure,
  plan: DemoPlan,
  random: Random,
): readonly Entry[] {
  return new DemoCase(compiled, plan, random).play();
}

class DemoCase {
  readonly #log: CaseLog;
  readonly #run: RunId;
  readonly #factors = new Map<string, number>();
  readonly #dueMs = new Map<TrackId, number>();
  readonly #pace: number;
  readonly #missing: string | null;
  #ms = 0;

  constructor(
    private readonly compiled: CompiledProcedure,
    private readonly plan: DemoPlan,
    private readonly random: Random,
  ) {
    this.#log = new CaseLog(plan.caseId, compiled, SETTINGS);
    this.#run = `${plan.caseId}-run` as RunId;
    this.#pace = HABITS.paceSigma * random.normal();
    const last = compiled.outline.phases
      .filter(({ track }) => track === compiled.tracks[0])
      .slice(2);
    this.#missing = this.#happens(HABITS.missingChance)
      ? (last[random.below(last.length)]?.id ?? null)
      : null;
  }

  play(): readonly Entry[] {
    this.#add({ type: 'case.opened', data: this.plan.setup }, 'desk');
    for (const fact of decideOpening(this.compiled, this.#log.facts.state)) this.#add(fact, 'wall');
    this.#mark('PIR');
    for (const track of this.compiled.tracks) this.#dueMs.set(track, this.#durationOf(track));
    const isAbandoned = this.#happens(HABITS.abandonedChance);
    const stopAt = isAbandoned ? 30 : MOST_MOVES;
    let moves = 0;
    while (moves < stopAt && this.#move()) moves += 1;
    const isDone = this.compiled.tracks.every((track) => this.#position(track).kind === 'done');
    if (isDone) this.#mark('PF');
    this.#ms += (4 + 6 * this.random.uniform()) * MINUTE_MS;
    this.#mark('POR');
    this.#order({ type: 'case.close', outcome: isDone ? 'finished' : 'abandoned' }, 'desk');
    return this.#log.entriesFrom(0);
  }

  /** The next thing that happens; false when all tracks are done or stuck for good. */
  #move(): boolean {
    const open = this.compiled.tracks.filter((track) => this.#position(track).kind !== 'done');
    const [next] = open.toSorted((a, b) => this.#due(a) - this.#due(b));
    if (next === undefined) return false;
    if (this.#due(next) === Infinity) return this.#fetchPacks(open) || this.#override(open);
    this.#ms = Math.max(this.#ms, this.#due(next));
    const before = this.#log.count;
    this.#act(next);
    if (this.#log.count === before) this.#dueMs.set(next, Infinity);
    else this.#wake(open, next);
    return true;
  }

  /** What one track did may have opened the way of another. */
  #wake(open: readonly TrackId[], moved: TrackId): void {
    this.#dueMs.set(moved, this.#ms + this.#durationOf(moved));
    for (const track of open) {
      if (this.#due(track) === Infinity) this.#dueMs.set(track, this.#ms + this.#durationOf(track));
    }
  }

  #act(track: TrackId): void {
    const { kind, ...rest } = this.#position(track);
    const step = 'step' in rest ? rest.step : null;
    if (!step) return;
    if (
      step.phase === this.#missing &&
      this.#order({ type: 'step.skip', track, reason: 'Not needed today' }, 'desk')
    )
      return;
    if (kind === 'waiting') {
      this.#order({ type: 'step.begin', step: step.id }, 'voice');
      return;
    }
    if (
      step.exit &&
      this.#happens(HABITS.endGroupChance) &&
      this.#order({ type: 'group.finish', group: step.exit.group }, 'voice')
    )
      return;
    this.#maybeHold();
    for (const id of step.captures) {
      const capture = this.compiled.captures.get(id);
      if (capture && this.#stands(track, step)) this.#settle(capture, step);
    }
    if (this.#stands(track, step)) {
      this.#checkAndCount(step);
      const isDone = this.#order({ type: 'step.finish', track }, 'voice');
      if (!isDone)
        this.#order({ type: 'step.skip', track, reason: 'Left out in the demo' }, 'desk');
    }
  }

  /** A size or choice, said and confirmed; now and then misheard, not understood or left to lapse. */
  #settle(capture: Capture, step: Step): void {
    if (this.#happens(HABITS.notUnderstoodChance)) {
      this.#hear(null);
      this.#add(
        {
          type: 'order.refused',
          data: {
            order: null,
            code: 'phrase-not-understood',
            params: {},
            holdPoint: null,
            conditions: [],
          },
        },
        'voice',
      );
      this.#ms += 3 * SECOND_MS;
    }
    const values = this.#valuesFor(capture, step);
    const wrong = values.at(-1);
    if (
      wrong !== undefined &&
      values.length > 1 &&
      this.#happens(HABITS.misheardChance) &&
      this.#offer(capture, wrong)
    ) {
      this.#order({ type: 'capture.withdraw' }, 'voice');
      this.#ms += 3 * SECOND_MS;
    } else if (
      values[0] !== undefined &&
      this.#happens(HABITS.lapseChance) &&
      this.#offer(capture, values[0])
    ) {
      this.#ms += 12 * SECOND_MS;
      this.#order({ type: 'capture.lapse' }, 'wall');
    }
    const value = values.find((it) => this.#offer(capture, it));
    if (value === undefined) return;
    this.#ms += (2 + 3 * this.random.uniform()) * SECOND_MS;
    this.#hear('confirm');
    this.#order({ type: 'capture.confirm' }, 'voice');
  }

  #offer(capture: Capture, value: CaptureValue): boolean {
    const order: Order = { type: 'capture.offer', capture: capture.id, value };
    if (!decide(this.compiled, this.#log.facts.state, order, 'voice').ok) return false;
    const legal = listLegalValues(capture).find((it) => it.value === value);
    this.#hear((legal && wordsForValue(capture, legal.value)[0]) ?? capture.say);
    return this.#order(order, 'voice');
  }

  /** Values to try, the likeliest first. A loop's own value comes first when the loop is to be gone again. */
  #valuesFor(capture: Capture, step: Step): readonly CaptureValue[] {
    const legal = listLegalValues(capture).map(({ value }) => value);
    const planned = this.plan.setup.plan[capture.id];
    const mixed = legal.toSorted(() => this.random.uniform() - 0.5);
    const liked =
      planned === undefined ? mixed : [planned, ...mixed.filter((value) => value !== planned)];
    if (step.loop?.capture !== capture.id) return liked;
    const back = step.loop.is;
    const others = liked.filter((value) => value !== back);
    return this.#happens(HABITS.loopChance) ? [back, ...others] : others;
  }

  #maybeHold(): void {
    const reasons = this.compiled.procedure.holdReasons;
    const reason = reasons[this.random.below(reasons.length)];
    if (!reason || !this.#happens(HABITS.holdChance / 20)) return;
    if (!this.#order({ type: 'clock.hold', reason: reason.id }, 'voice')) return;
    this.#ms += 2 * MINUTE_MS * Math.exp(0.6 * this.random.normal());
    this.#order({ type: 'clock.resume' }, 'voice');
  }

  /** Lines of a step's checklist are answered, and its count is as expected. */
  #checkAndCount({ checklist, count }: Step): void {
    if (checklist.length === 0 && count === null) return;
    const { checklists, counts } = this.#log.view(0, null);
    for (const { step, items } of checklists)
      for (const { item } of items)
        this.#order({ type: 'check.answer', step, item, answer: 'yes' }, 'desk');
    for (const { count: at, items } of counts.filter(({ isNow }) => isNow))
      for (const { item, expected } of items)
        this.#order({ type: 'count.record', count: at, item, value: expected ?? 0 }, 'desk');
  }

  /** Every track waits, and packs are still to be scanned: they are fetched one by one. */
  #fetchPacks(open: readonly TrackId[]): boolean {
    if (!asksForPacks(this.compiled)) return false;
    const before = this.#log.count;
    for (let pack = 0; pack < MOST_PACKS; pack += 1) {
      const { facts } = this.#log;
      const view = viewImplants(this.compiled, facts);
      const orders = fetchOrders(catalogueOf(this.compiled, facts), view, this.plan.startAt);
      if (!orders.every((order) => this.#orderPack(order)) || orders.length === 0) break;
      this.#ms += (15 + 20 * this.random.uniform()) * SECOND_MS;
    }
    if (this.#log.count === before) return false;
    for (const track of open) this.#dueMs.set(track, this.#ms);
    return true;
  }

  /** Scans or moves a pack; what the wall makes of it follows at once. */
  #orderPack(order: RoomOrder): boolean {
    if (!isImplantOrder(order)) return false;
    const { facts } = this.#log;
    const at = this.plan.startAt + this.#ms;
    const source = order.type === 'label.scan' ? 'scanner' : 'desk';
    const decided = decideOnImplants(this.compiled, facts, order, source, at);
    if (!decided.ok) return false;
    for (const { fact } of decided.value) this.#add(fact, source);
    this.#comparePacks();
    return true;
  }

  #comparePacks(): void {
    for (const fact of comparePacks(this.compiled, this.#log.facts)) this.#add(fact, 'wall');
  }

  /** Every track waits: somebody passes the hold point at the desk, with a reason. */
  #override(open: readonly TrackId[]): boolean {
    for (const track of open) {
      const position = this.#position(track);
      if (position.kind !== 'waiting') continue;
      const point = [...this.compiled.holdPoints.values()].find(
        ({ guards }) => guards.type === 'step' && guards.step === position.step.id,
      );
      if (!point || isOpen(this.compiled, point, contextOf(this.#log.facts.state))) continue;
      const asked = this.#order(
        { type: 'override.request', holdPoint: point.id, reason: 'Checked by hand' },
        'desk',
      );
      if (!asked || !this.#order({ type: 'override.confirm' }, 'desk')) continue;
      this.#dueMs.set(track, this.#ms);
      return true;
    }
    return false;
  }

  /** Carries an order out; false where the machine refuses it. Nothing is recorded then. */
  #order(order: Order, source: Source): boolean {
    const decided = decide(this.compiled, this.#log.facts.state, order, source);
    if (!decided.ok) return false;
    for (const { fact, isConsequence } of decided.value) {
      this.#add(fact, isConsequence ? 'wall' : source);
    }
    this.#comparePacks();
    return true;
  }

  #hear(words: string | null): void {
    const score = words === null ? 0 : 0.9;
    this.#add(
      {
        type: 'phrase.heard',
        data: { words, score, listener: 'demo', speechMs: 900, decisionMs: 180 },
      },
      'voice',
    );
  }

  #mark(milestone: 'PIR' | 'PF' | 'POR'): void {
    this.#order({ type: 'milestone.mark', milestone }, 'desk');
  }

  #add(fact: Fact, source: Source): void {
    const head = {
      caseId: this.plan.caseId,
      seq: this.#log.count,
      source,
      version: ENTRY_VERSION,
      at: Math.round(this.plan.startAt + this.#ms),
      mono: Math.round(this.#ms),
      run: this.#run,
    };
    this.#log.add([toEntry(head, fact)]);
  }

  /** How long the step in hand will take. */
  #durationOf(track: TrackId): number {
    const position = this.#position(track);
    if (position.kind !== 'doing') return 2 * SECOND_MS;
    const phase = this.compiled.outline.phases.find(
      ({ id, track: of }) => id === position.step.phase && of === track,
    );
    const key = `${track}/${position.step.phase}`;
    const factor =
      this.#factors.get(key) ??
      phaseFactor(position.step.phase, this.plan.place, this.#pace, this.plan.shift, this.random);
    this.#factors.set(key, factor);
    return (
      stepMinutes(phase?.usualMin ?? 5, phase?.steps.length ?? 1, factor, this.random) * MINUTE_MS
    );
  }

  #position(track: TrackId): ReturnType<typeof positionOf> {
    return positionOf(this.compiled, this.#log.facts.state, track);
  }

  #stands(track: TrackId, step: Step): boolean {
    const position = this.#position(track);
    return position.kind === 'doing' && position.step.id === step.id;
  }

  #due(track: TrackId): number {
    return this.#dueMs.get(track) ?? Infinity;
  }

  #happens(chance: number): boolean {
    return this.random.uniform() < chance;
  }
}
