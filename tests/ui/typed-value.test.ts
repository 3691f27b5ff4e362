/** What typed digits mean. */
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { WantedView } from '../../src/session';
import { typedToText, typedToValue } from '../../src/ui/parts/typed-value';

function wanted(
  kind: WantedView['kind'],
  options: readonly (readonly [string | number, string])[],
): WantedView {
  return {
    capture: asId('c'),
    track: asId('field'),
    kind,
    label: 'Size',
    unit: '',
    sayHint: '',
    sayThen: '',
    asks: null,
    isConfirmed: false,
    planned: null,
    options: options.map(([value, text]) => ({ value, text, isPlanned: false })),
  };
}

const number = wanted('number', [[16, '16'], [24, '24']]); // prettier-ignore
const clock = wanted('clock', [[0, '12:00'], [30, '12:30'], [540, '9:00'], [630, '10:30']]); // prettier-ignore
const choice = wanted('choice', [['small', 'Small'], ['large', 'Large']]); // prettier-ignore

describe('typed values', () => {
  test('[DSK10] a number is itself, also where the set has no such size', () => {
    expect(typedToValue('24', number)).toBe(24);
    expect(typedToValue('25', number)).toBe(25);
    expect(typedToText('24', number)).toBe('24');
    expect(typedToText('25', number)).toBeNull();
  });

  test.each([
    ['1030', 630],
    ['930', 570],
    ['9', 540],
    ['12', 0],
    ['1230', 30],
    ['100', 60],
    ['0', null],
    ['13', null],
    ['1060', null],
    ['99', null],
  ])('[DSK10] the direction %s is %s minutes past twelve', (typed, minutes) => {
    expect(typedToValue(typed, clock)).toBe(minutes);
  });

  test('[DSK10] a choice goes by the place of the option', () => {
    expect(typedToValue('2', choice)).toBe('large');
    expect(typedToText('1', choice)).toBe('Small');
    expect(typedToValue('3', choice)).toBeNull();
    expect(typedToValue('0', choice)).toBeNull();
  });

  test.each(['', '12345', '1a', ' 1', '-1', '1.5'])('[DSK10] %j means nothing', (typed) => {
    for (const target of [number, clock, choice]) expect(typedToValue(typed, target)).toBeNull();
  });
});
