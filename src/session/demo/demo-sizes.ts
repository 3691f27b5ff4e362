/** How an invented team says its sizes and choices: mostly right at first; now and then misheard, not understood or left to lapse. */
import type { CaptureValue, Order } from '../../domain';
import { contextOf, listBroken, listLegalValues, wordsForValue } from '../../procedure';
import type { Capture, Step } from '../../procedure';
import type { Random } from '../../review';
import type { DemoWall } from './demo-wall';
import type { Habits } from './habits';

const SECOND_MS = 1000;

export interface Speaker {
  readonly wall: DemoWall;
  readonly random: Random;
  readonly habits: Habits;
  readonly plan: Readonly<Record<string, CaptureValue>>;
}

/** Says a size or choice and confirms it. Nothing is said where no value is legal now. */
export function settleSize(speaker: Speaker, capture: Capture, step: Step): void {
  const { wall, random, habits } = speaker;
  const happens = (chance: number) => random.uniform() < chance;
  if (happens(habits.notUnderstoodChance)) {
    wall.hear(null);
    wall.ms += 3 * SECOND_MS;
  }
  const values = valuesFor(speaker, capture, step);
  const [first] = values;
  const wrong = values.at(-1);
  if (wrong !== undefined && values.length > 1 && happens(habits.misheardChance) && offer(wall, capture, wrong)) {
    wall.order({ type: 'capture.withdraw' }, 'voice');
    wall.ms += 3 * SECOND_MS;
  } else if (first !== undefined && happens(habits.lapseChance) && offer(wall, capture, first)) {
    wall.ms += 12 * SECOND_MS;
    wall.order({ type: 'capture.lapse' }, 'wall');
  } // prettier-ignore
  const value = values.find((it) => agrees(wall, capture, it) && offer(wall, capture, it));
  if (value === undefined) return;
  wall.ms += (2 + 3 * random.uniform()) * SECOND_MS;
  wall.hear('confirm');
  wall.order({ type: 'capture.confirm' }, 'voice');
}

/** Whether a value goes with what is settled: one that does not would be asked again. */
function agrees({ compiled, log }: DemoWall, { id }: Capture, value: CaptureValue): boolean {
  return listBroken(compiled, contextOf(log.facts.state), id, value).length === 0;
}

function offer(wall: DemoWall, capture: Capture, value: CaptureValue): boolean {
  const order: Order = { type: 'capture.offer', capture: capture.id, value };
  if (!wall.allows(order, 'voice')) return false;
  const legal = listLegalValues(capture).find((it) => it.value === value);
  wall.hear((legal && wordsForValue(capture, legal.value)[0]) ?? capture.say);
  return wall.order(order, 'voice');
}

/** Values to try, the likeliest first. A loop's own value comes first when the loop is to be gone again. */
function valuesFor(
  { plan, random, habits }: Speaker,
  capture: Capture,
  step: Step,
): readonly CaptureValue[] {
  const legal = listLegalValues(capture).map(({ value }) => value);
  const planned = plan[capture.id];
  const mixed = legal.toSorted(() => random.uniform() - 0.5);
  const liked =
    planned === undefined ? mixed : [planned, ...mixed.filter((value) => value !== planned)];
  if (step.loop?.capture !== capture.id) return liked;
  const back = step.loop.is;
  const others = liked.filter((value) => value !== back);
  return random.uniform() < habits.loopChance ? [back, ...others] : others;
}
