/**
 * Decides what an order means now: the facts that follow from it, or a refusal
 * with its code. Nothing is decided twice: whatever is proposed here must also be
 * taken by the machine, whose guards have the last word.
 */
import { assertNever, err, fault, ok } from '../domain';
import type {
  CaptureId, CaptureValue, ConditionState, Fact, Fault, HoldPointId, Order, Result, Source, StepId, TrackId,
} from '../domain'; // prettier-ignore
import type { CompiledProcedure } from './compile';
import { describeConditions, isOpen, listUnmet } from './conditions';
import type { HoldPoint, Step } from './expand';
import { finishing, settle } from './settle';
import { applyFact, contextOf, isAccepted, isClosed, positionOf } from './state';
import type { CaseState } from './state';
import { isLegalValue, listLegalValues, valueToText } from './values-of';

/** Why an order was not carried out, and which hold point stood in the way. */
export interface Refusal {
  readonly fault: Fault;
  readonly holdPoint: HoldPointId | null;
  readonly conditions: readonly ConditionState[];
}

/** A fact and whether the wall added it of its own accord. */
export interface DecidedFact {
  readonly fact: Fact;
  readonly isConsequence: boolean;
}

type Facts = Result<readonly Fact[], Refusal>;

/** The facts that an order leads to, its consequences included; or why it is refused. */
export function decide(
  compiled: CompiledProcedure,
  state: CaseState,
  order: Order,
  source: Source,
): Result<readonly DecidedFact[], Refusal> {
  const asked = isClosed(state)
    ? refuse('case-closed')
    : new Decision(compiled, state, source).of(order);
  if (!asked.ok) return asked;
  let next = state;
  for (const fact of asked.value) {
    if (!isAccepted(next, fact)) throw new Error(`The machine does not take "${fact.type}"`);
    next = applyFact(compiled, next, fact);
  }
  return ok([
    ...asked.value.map((fact) => ({ fact, isConsequence: false })),
    ...settle(compiled, next).map((fact) => ({ fact, isConsequence: true })),
  ]);
}

/** The facts that hold from the start: the first steps that nothing holds back. */
export function decideOpening(compiled: CompiledProcedure, state: CaseState): readonly Fact[] {
  return settle(compiled, state);
}

function refuse(
  code: Fault['code'],
  params: Fault['params'] = {},
  holdPoint: HoldPointId | null = null,
  conditions: readonly ConditionState[] = [],
): { readonly ok: false; readonly error: Refusal } {
  return err({ fault: fault(code, params), holdPoint, conditions });
}

class Decision {
  readonly #context;

  constructor(
    private readonly compiled: CompiledProcedure,
    private readonly state: CaseState,
    private readonly source: Source,
  ) {
    this.#context = contextOf(state);
  }

  of(order: Order): Facts {
    const blocked = this.#blockedByHeldClock(order);
    if (blocked) return blocked;
    switch (order.type) {
      case 'step.begin':
        return this.#beginStep(order.step);
      case 'step.finish':
        return this.#finishStep(order.track);
      case 'step.goBack':
        return this.#goBack(order.track);
      case 'step.skip':
        return this.#skipStep(order.track, order.reason);
      case 'group.finish':
        return this.#finishGroup(order.group);
      case 'capture.offer':
        return this.#offer(order.capture, order.value);
      case 'capture.confirm':
      case 'capture.withdraw':
      case 'capture.lapse':
        return this.#answerReadBack(order.type);
      case 'clock.hold':
        return this.#context.isClockHeld
          ? refuse('clock-already-held')
          : ok([{ type: 'clock.held', data: { reason: order.reason } }]);
      case 'clock.resume':
        return this.#context.isClockHeld
          ? ok([{ type: 'clock.resumed', data: {} }])
          : refuse('clock-not-held');
      case 'override.request':
        return this.#requestOverride(order.holdPoint, order.reason);
      case 'override.confirm':
      case 'override.withdraw':
        return this.#answerOverride(order.type);
      case 'question.ask':
        return ok([{ type: 'question.asked', data: { question: order.question } }]);
      case 'announcer.mute':
        return ok([{ type: 'announcer.muted', data: {} }]);
      case 'announcer.unmute':
        return ok([{ type: 'announcer.unmuted', data: {} }]);
      case 'milestone.mark':
        return ok([{ type: 'milestone.reached', data: { milestone: order.milestone } }]);
      case 'case.close':
        return ok([
          ...this.#dropReadBack(),
          { type: 'case.closed', data: { outcome: order.outcome } },
        ]);
      default:
        return assertNever(order);
    }
  }

  /** While the clock is held, nothing moves; sizes, questions and the way out still work. */
  #blockedByHeldClock({ type }: Order): Facts | null {
    const moves = ['step.begin', 'step.finish', 'step.goBack', 'step.skip', 'group.finish'];
    return this.#context.isClockHeld && moves.includes(type)
      ? refuse('clock-held', { order: type })
      : null;
  }

  #beginStep(id: StepId): Facts {
    const step = this.compiled.steps.get(id);
    if (!step) return refuse('unknown-name', { name: id });
    const holdPoint = this.compiled.holdPointOfStep.get(id);
    if (holdPoint && !isOpen(holdPoint, this.#context)) return this.#held(holdPoint, step.title);
    const position = positionOf(this.compiled, this.state, step.track);
    if (position.kind === 'waiting' && position.step.id === id) {
      return ok([{ type: 'step.begun', data: { track: step.track, step: id } }]);
    }
    const current = position.kind === 'done' ? 'all done' : position.step.title;
    return refuse('step-not-next', { step: id, title: step.title, current });
  }

  #finishStep(track: TrackId): Facts {
    if (!this.compiled.stepsOfTrack.has(track)) return refuse('unknown-name', { name: track });
    const position = positionOf(this.compiled, this.state, track);
    if (position.kind !== 'doing') return this.#nothingInHand(track);
    const { step } = position;
    if (this.#context.offered && step.captures.includes(this.#context.offered.capture)) {
      return this.#readBackOpen();
    }
    const missing = step.captures.filter((capture) => !(capture in this.#context.confirmed));
    if (missing.length > 0) {
      return refuse('step-needs-captures', { track, missing: this.#labels(missing) });
    }
    return ok(finishing(step, this.#context));
  }

  #nothingInHand(track: TrackId): Facts {
    const position = positionOf(this.compiled, this.state, track);
    const title = this.compiled.outline.tracks.find(({ id }) => id === track)?.title ?? track;
    if (position.kind === 'waiting') {
      const holdPoint = this.compiled.holdPointOfStep.get(position.step.id);
      if (holdPoint && !isOpen(holdPoint, this.#context))
        return this.#held(holdPoint, position.step.title);
    }
    return refuse('no-step-active', { track: title });
  }

  #goBack(track: TrackId): Facts {
    const steps = this.compiled.stepsOfTrack.get(track);
    if (!steps) return refuse('unknown-name', { name: track });
    const position = positionOf(this.compiled, this.state, track);
    const here = position.kind === 'done' ? steps.length : steps.indexOf(position.step);
    const to = steps.slice(0, here).findLast(({ id }) => id in this.#context.passed);
    if (!to) return refuse('no-way-back', { track });
    const from = position.kind === 'done' ? null : position.step.id;
    const facts: readonly Fact[] = [
      ...this.#dropReadBack(track),
      { type: 'step.reopened', data: { track, from, to: to.id } },
    ];
    const others = this.#reopenedElsewhere(track, facts);
    // One phrase must not wipe what another pair of hands has settled.
    return others.length > 0 && this.source !== 'desk'
      ? refuse('go-back-reaches-far', { track, steps: others.join(', ') })
      : ok(facts);
  }

  #skipStep(track: TrackId, reason: string): Facts {
    if (this.source !== 'desk') return refuse('skip-only-at-desk', { source: this.source });
    if (reason.trim() === '') return refuse('skip-needs-reason');
    const position = positionOf(this.compiled, this.state, track);
    if (position.kind === 'done') return refuse('no-step-active', { track });
    const holdPoint = this.compiled.holdPointOfStep.get(position.step.id);
    // Leaving out what a hold point guards would be a way around it.
    if (holdPoint && !isOpen(holdPoint, this.#context)) {
      return this.#held(holdPoint, position.step.title);
    }
    return ok([
      ...this.#dropReadBack(track),
      { type: 'step.skipped', data: { track, step: position.step.id, reason: reason.trim() } },
    ]);
  }

  #finishGroup(group: string): Facts {
    for (const track of this.compiled.tracks) {
      const position = positionOf(this.compiled, this.state, track);
      if (position.kind === 'done') continue;
      const { exit, id } = position.step;
      if (exit?.group === group && exit.itemsDone >= exit.atLeast) {
        return ok([
          ...this.#dropReadBack(track),
          { type: 'group.finished', data: { track, group: exit.group, at: id } },
        ]);
      }
    }
    return refuse('group-not-open', { group });
  }

  #offer(id: CaptureId, value: CaptureValue): Facts {
    const capture = this.compiled.captures.get(id);
    if (!capture) return refuse('unknown-name', { name: id });
    const { offered } = this.#context;
    const isWanted = this.compiled.tracks.some((track) => {
      const position = positionOf(this.compiled, this.state, track);
      return position.kind === 'doing' && position.step.captures.includes(id);
    });
    if (!isWanted) return refuse('capture-not-wanted', { capture: id, label: capture.label });
    if (offered && offered.capture !== id) return this.#readBackOpen();
    if (!isLegalValue(capture, value)) {
      const choices = listLegalValues(capture)
        .map(({ text }) => text)
        .join(', ');
      return refuse('value-not-offered', {
        capture: id,
        label: capture.label,
        value: String(value),
        choices,
      });
    }
    const holdPoint = this.compiled.holdPointOfCapture.get(id);
    if (holdPoint && !isOpen(holdPoint, this.#context, value)) {
      return this.#held(holdPoint, `${capture.label} ${valueToText(capture, value)}`, value);
    }
    return ok([{ type: 'capture.offered', data: { capture: id, value } }]);
  }

  #answerReadBack(type: 'capture.confirm' | 'capture.withdraw' | 'capture.lapse'): Facts {
    const { offered } = this.#context;
    if (!offered) return refuse('no-read-back');
    if (type === 'capture.confirm') {
      const holdPoint = this.compiled.holdPointOfCapture.get(offered.capture);
      return holdPoint && !isOpen(holdPoint, this.#context, offered.value)
        ? this.#held(holdPoint, holdPoint.title, offered.value)
        : ok([{ type: 'capture.confirmed', data: offered }]);
    }
    return ok([
      { type: type === 'capture.lapse' ? 'capture.lapsed' : 'capture.withdrawn', data: offered },
    ]);
  }

  #requestOverride(id: HoldPointId, reason: string): Facts {
    if (this.source !== 'desk') return refuse('override-only-at-desk', { source: this.source });
    const holdPoint = this.compiled.holdPoints.get(id);
    if (!holdPoint) return refuse('unknown-name', { name: id });
    if (reason.trim() === '') return refuse('override-needs-reason');
    if (isOpen(holdPoint, this.#context)) {
      return refuse('override-not-needed', { holdPoint: id, title: holdPoint.title });
    }
    const excused = listUnmet(holdPoint, this.#context);
    const missing = this.#texts(holdPoint, excused);
    const data = { holdPoint: id, reason: reason.trim(), excused, missing };
    return ok([{ type: 'override.requested', data }]);
  }

  #answerOverride(type: 'override.confirm' | 'override.withdraw'): Facts {
    if (this.source !== 'desk') return refuse('override-only-at-desk', { source: this.source });
    const asked = this.#context.overrideAsked;
    const holdPoint = asked && this.compiled.holdPoints.get(asked.holdPoint);
    if (!holdPoint) return refuse('no-override-asked');
    if (type === 'override.withdraw') {
      return ok([{ type: 'override.withdrawn', data: { holdPoint: holdPoint.id } }]);
    }
    const unmet = listUnmet(holdPoint, this.#context);
    const { id, title } = holdPoint;
    if (unmet.length === 0) return refuse('override-not-needed', { holdPoint: id, title });
    // What has come to be missing since it was asked for was never agreed to.
    if (unmet.some((index) => !asked.excused.includes(index))) {
      return refuse('override-changed', { holdPoint: id, title });
    }
    const missing = this.#texts(holdPoint, unmet);
    return ok([{ type: 'override.granted', data: { holdPoint: id, excused: unmet, missing } }]);
  }

  #held(holdPoint: HoldPoint, subject: string, value: CaptureValue | null = null): Facts {
    const conditions = describeConditions(this.compiled, holdPoint, this.#context, value);
    const missing = conditions
      .filter(({ isMet }) => !isMet)
      .map(({ text }) => text)
      .join(', ');
    const params = { holdPoint: holdPoint.id, title: subject, subject, missing };
    return refuse('hold-point-closed', params, holdPoint.id, conditions);
  }

  #readBackOpen(): Facts {
    const { offered } = this.#context;
    const capture = offered && this.compiled.captures.get(offered.capture);
    if (!capture) return refuse('no-read-back');
    const params = {
      capture: capture.id,
      label: capture.label,
      value: valueToText(capture, offered.value),
    };
    return refuse('read-back-open', params);
  }

  /** A read-back is never left hanging over a move: it is withdrawn, visibly. */
  #dropReadBack(track: TrackId | null = null): readonly Fact[] {
    const { offered } = this.#context;
    const isOfTrack = (step: Step) => track === null || step.track === track;
    const isTouched = [...this.compiled.steps.values()].some(
      (step) => isOfTrack(step) && step.captures.some((capture) => capture === offered?.capture),
    );
    return offered && isTouched ? [{ type: 'capture.withdrawn', data: offered }] : [];
  }

  /** Titles of finished steps on other tracks that these facts would reopen. */
  #reopenedElsewhere(track: TrackId, facts: readonly Fact[]): readonly string[] {
    const next = facts.reduce((state, fact) => applyFact(this.compiled, state, fact), this.state);
    return settle(this.compiled, next).flatMap((fact) =>
      fact.type === 'step.reopened' && fact.data.track !== track
        ? [this.compiled.steps.get(fact.data.to)?.title ?? fact.data.to]
        : [],
    );
  }

  #texts(holdPoint: HoldPoint, indexes: readonly number[]): readonly string[] {
    return describeConditions(this.compiled, holdPoint, this.#context)
      .filter((_, index) => indexes.includes(index))
      .map(({ text }) => text);
  }

  #labels(captures: readonly CaptureId[]): string {
    return captures.map((id) => this.compiled.captures.get(id)?.label ?? id).join(', ');
  }
}
