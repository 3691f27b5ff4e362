/**
 * The spoken plan and tolerance. Numbers are put together from single digits, so that
 * any angle can be said from ten recordings. They are what follows from the figures
 * that were typed in, rounded to whole degrees; a tolerance is rounded down.
 */
import { numberToDigitWords } from '../../domain';
import type { CompiledProcedure } from '../../procedure';
import { readBackSegments } from './announced-segments';
import type { CaseFacts } from '../case-facts';
import { catalogueOf } from '../implants/implants-orders';
import { viewPlan } from '../view/implants-plan-view';

const TOLD = {
  planned: 'Planned',
  noPlan: 'No plan was typed in',
  computed: 'Computed wedge',
  degrees: 'degrees',
  thickSide: 'thick side at',
  within: 'Up to',
  eitherWay: 'degrees either way',
  anyTurn: 'No turn costs more than the error allowed',
  noError: 'No allowed error was typed in',
  noWedge: 'No wedge is taken or planned',
} as const;

const DIGITS = Array.from({ length: 10 }, (_, digit) => numberToDigitWords(digit));

/** The planned sizes, and what the angles of the sheet come to. */
export function answerPlan(compiled: CompiledProcedure, facts: CaseFacts): readonly string[] {
  const planned = [...compiled.captures.values()].flatMap((capture) => {
    const value = facts.setup?.plan[capture.id];
    return value === undefined ? [] : readBackSegments(capture, value);
  });
  const { figures } = viewPlan(compiled, facts, catalogueOf(compiled, facts));
  const computed =
    figures === null
      ? []
      : [
          TOLD.computed,
          ...toDigits(Math.round(figures.angleDeg)),
          TOLD.degrees,
          ...(figures.thickMin === null
            ? []
            : [TOLD.thickSide, ...clockToDigits(figures.thickMin)]),
        ];
  if (planned.length === 0 && computed.length === 0) return [TOLD.noPlan];
  return [...(planned.length > 0 ? [TOLD.planned, ...planned] : []), ...computed];
}

/** How far the wedge may sit off its mark for the error that the team allowed. */
export function answerTolerance(compiled: CompiledProcedure, facts: CaseFacts): readonly string[] {
  const { plan, figures } = viewPlan(compiled, facts, catalogueOf(compiled, facts));
  if (!plan || plan.allowedErrorDeg === null || !figures) return [TOLD.noError];
  if (!figures.allowed) return [TOLD.noWedge];
  const { turnDeg } = figures.allowed;
  return turnDeg === null
    ? [TOLD.anyTurn]
    : [TOLD.within, ...toDigits(Math.floor(turnDeg)), TOLD.eitherWay];
}

/** Every segment of these answers, where a procedure can ask for them. */
export function planSegments({ captures }: CompiledProcedure): readonly string[] {
  const isAsked = [...captures.values()].some(({ kind }) => kind === 'clock');
  return isAsked ? [...Object.values(TOLD), ...DIGITS] : [];
}

function toDigits(whole: number): readonly string[] {
  return [...String(Math.abs(whole))].map((digit) => DIGITS[Number(digit)] ?? '');
}

/** Nine forty-eight as "nine, four, eight": the nearest whole minute. */
function clockToDigits(minutes: number): readonly string[] {
  const whole = Math.round(minutes) % 720;
  const hours = Math.floor(whole / 60) || 12;
  return [...toDigits(hours), ...toDigits(Math.floor((whole % 60) / 10)), ...toDigits(whole % 10)];
}
