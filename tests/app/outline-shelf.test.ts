/** Outlines of recorded procedures, told apart by their whole text. */
import { describe, expect, test } from 'vitest';
import { OutlineShelf } from '../../src/app/keeping/outline-shelf';
import { describeBuiltIn } from '../../src/session';

interface File {
  phases: { title: string; usualMin?: number }[];
}

/** The built-in procedure with the usual time of its first phase put to another figure. */
function withUsual(minutes: number): File {
  const card = describeBuiltIn('reverse-shoulder-glenoid');
  if (!card.ok) throw new Error('The built-in procedure loads');
  const file = structuredClone(card.value.data) as { tracks: { phases: File['phases'] }[] };
  const [phase] = file.tracks.flatMap(({ phases }) => phases);
  if (!phase) throw new Error('It has a phase');
  phase.usualMin = minutes;
  return file as unknown as File;
}

describe('outlines', () => {
  test('[REV77] a usual time changed to another of as many digits is another outline', () => {
    const shelf = new OutlineShelf();
    const usual = (minutes: number) => shelf.of(withUsual(minutes))?.phases[0]?.usualMin;
    expect(JSON.stringify(withUsual(12))).toHaveLength(JSON.stringify(withUsual(15)).length);
    expect([usual(12), usual(15), usual(12)]).toEqual([12, 15, 12]);
    expect(shelf.of(withUsual(12))).toBe(shelf.of(withUsual(12)));
    expect(shelf.of({ phases: 'none' })).toBeNull();
  });
});
