/** Orders about sizes and reports: offer, confirm, take back, change, keep. */
import { asId, ok } from '../domain';
import type { CaptureId, CaptureValue, ConstraintId } from '../domain';
import { isOpen, isSettled } from './conditions';
import { listBroken } from './constraints';
import type { Capture } from './expanded';
import { refuse, refuseHeld, refuseReadBackOpen } from './moment';
import type { Facts, Moment } from './moment';
import { positionOf } from './state';
import { isFree, isLegalValue, listLegalValues, valueToText } from './values-of';

/** Offers a value: it is read back, and counts for nothing until confirmed. */
export function offerCapture(moment: Moment, id: CaptureId, value: CaptureValue): Facts {
  const { compiled, context, source } = moment;
  const capture = compiled.captures.get(id);
  if (!capture) return refuse('unknown-name', { name: id });
  if (!isWanted(moment, id))
    return refuse('capture-not-wanted', { capture: id, label: capture.label });
  if (context.offered && context.offered.capture !== id) return refuseReadBackOpen(moment);
  if (isFree(capture) && source === 'voice')
    return refuse('desk-only', { order: 'capture.offer', source });
  const clean = typeof value === 'string' && isFree(capture) ? value.trim() : value;
  return (
    refusalOf(moment, capture, clean) ??
    ok([{ type: 'capture.offered', data: { capture: id, value: clean } }])
  );
}

/** Whether a step in hand takes it, or it is being changed, or is in doubt. */
function isWanted({ compiled, context, state }: Moment, id: CaptureId): boolean {
  return (
    context.changing === id ||
    id in context.doubtful ||
    compiled.tracks.some((track) => {
      const position = positionOf(compiled, state, track);
      return position.kind === 'doing' && position.step.captures.includes(id);
    })
  );
}

function refusalOf(moment: Moment, capture: Capture, value: CaptureValue): Facts | null {
  const { compiled, context } = moment;
  const { id, label } = capture;
  if (!isLegalValue(capture, value)) {
    const choices = listLegalValues(capture)
      .map(({ text }) => text)
      .join(', ');
    const params = { capture: id, label, value: String(value).slice(0, 40) };
    return refuse('value-not-offered', { ...params, choices: choices || 'a short text' });
  }
  const text = valueToText(capture, value);
  const holdPoint = compiled.holdPointOfCapture.get(id);
  if (holdPoint && !isOpen(compiled, holdPoint, context, value)) {
    return refuseHeld(moment, holdPoint, `${label} ${text}`, value);
  }
  const broken = listBroken(compiled, context, id, value).find(
    ({ onBreak }) => onBreak === 'refuse',
  );
  return broken
    ? refuse('constraint-broken', {
        capture: id, label, value: text, broken: broken.broken, constraint: broken.id,
      }) // prettier-ignore
    : null;
}

/** Answers the open read-back. One that does not agree with another value is asked a second time. */
export function answerReadBack(
  moment: Moment,
  type: 'capture.confirm' | 'capture.withdraw' | 'capture.lapse',
): Facts {
  const { compiled, context } = moment;
  const { offered } = context;
  const capture = offered && compiled.captures.get(offered.capture);
  if (!capture) return refuse('no-read-back');
  if (type !== 'capture.confirm') {
    const how = type === 'capture.lapse' ? 'capture.lapsed' : 'capture.withdrawn';
    return ok([{ type: how, data: offered }]);
  }
  const refusal = refusalOf(moment, capture, offered.value);
  if (refusal) return refusal;
  const constraints = listBroken(compiled, context, offered.capture, offered.value).map(({ id }) =>
    asId<ConstraintId>(id),
  );
  return constraints.length > 0 && !context.isQuestioned
    ? ok([{ type: 'capture.questioned', data: { ...offered, constraints } }])
    : ok([{ type: 'capture.confirmed', data: offered }]);
}

/** Asks for a settled value anew; the old one stands until the new one is confirmed. */
export function changeCapture(moment: Moment, id: CaptureId): Facts {
  const { compiled, context } = moment;
  const capture = compiled.captures.get(id);
  if (!capture) return refuse('unknown-name', { name: id });
  if (context.offered) return refuseReadBackOpen(moment);
  return isSettled(context, id)
    ? ok([{ type: 'capture.reopened', data: { capture: id } }])
    : refuse('capture-not-settled', { capture: id, label: capture.label });
}

/** Leaves the value that was to be changed as it is. */
export function keepCapture({ context }: Moment): Facts {
  const { changing, offered } = context;
  if (!changing) return refuse('nothing-to-keep');
  return ok([
    ...(offered?.capture === changing
      ? [{ type: 'capture.withdrawn' as const, data: offered }]
      : []),
    { type: 'capture.kept', data: { capture: changing } },
  ]);
}
