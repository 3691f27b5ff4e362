/** Scanner or person: keys at a pace that is moved by hand. */
import { describe, expect, test } from 'vitest';
import { SeenTexts } from '../../src/app/labels/camera';
import { KeyBurst } from '../../src/app/labels/key-burst';
import { HandClock } from '../support/hand-clock';

function createBurst() {
  const clock = new HandClock();
  const scans: string[] = [];
  const typed: string[] = [];
  const burst = new KeyBurst({
    scheduler: clock,
    onScan: (text) => scans.push(text),
    giveBack: (keys) => typed.push(...keys),
  });
  const type = (text: string, gapMs: number) => {
    for (const key of text) {
      burst.take(key);
      clock.advance(gapMs);
    }
  };
  return { burst, clock, scans, typed, type };
}

describe('a scanner that types', () => {
  test('[LAB18] sends a label in one go, ended by Enter', () => {
    const { burst, scans, typed, type } = createBurst();
    type(']d20109520123456788', 4);
    expect(burst.finish()).toBe(true);
    expect([scans, typed]).toEqual([[']d20109520123456788'], []]);
  });

  test('[LAB18] without a key at the end is over when it falls silent', () => {
    const { clock, scans, type } = createBurst();
    type('+A99912345/$$52001510X33', 20);
    expect(scans).toEqual([]);
    clock.advance(100);
    expect(scans).toEqual(['+A99912345/$$52001510X33']);
  });

  test('[LAB18] a person’s keys come back in order, and their Enter stays their own', () => {
    const { burst, clock, scans, typed, type } = createBurst();
    type('d', 120);
    type('24', 90);
    expect(typed).toEqual(['d', '2', '4']);
    type('2', 10);
    expect(burst.finish()).toBe(false);
    expect(typed).toEqual(['d', '2', '4', '2']);
    clock.advance(1_000);
    expect([scans, typed.length]).toEqual([[], 4]);
  });
});

test('[LAB19] what the camera reads counts at the second time, and not again while it stays', () => {
  let now = 0;
  const seen = new SeenTexts(() => now);
  const at = (ms: number, text = 'A') => {
    now = ms;
    return seen.isReady(text);
  };
  expect([at(0), at(100), at(200), at(3_100)]).toEqual([false, true, false, false]);
  expect(at(3_150, 'B')).toBe(false);
  // Shown again after it was away: twice once more.
  expect([at(9_000), at(9_100), at(9_200)]).toEqual([false, true, false]);
});
