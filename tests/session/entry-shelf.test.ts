/** The shelf of entries against a plain list. */
import { fc, test } from '@fast-check/vitest';
import { describe, expect } from 'vitest';
import { EntryShelf } from '../../src/session/kept/entry-shelf';
import { CASE_A, makeOffer } from '../record/entry-samples';

const entries = Array.from({ length: 3000 }, (_, seq) => makeOffer(CASE_A, seq, seq));

describe('the shelf of entries', () => {
  test.prop([fc.nat(3000), fc.nat(3000), fc.nat(3000)], { numRuns: 40 })(
    '[SES83] gives what a plain list gives, from any position, before and after it was packed',
    (total, before, asked) => {
      const missing = Math.min(total, before);
      const shelf = new EntryShelf(missing);
      for (const entry of entries.slice(missing, total)) shelf.push(entry);
      expect(shelf.count).toBe(total);
      shelf.fill(entries.slice(0, missing));
      expect([shelf.count, shelf.isWhole]).toEqual([total, true]);
      expect(shelf.from(asked)).toEqual(entries.slice(0, total).slice(asked));
    },
  );

  test('[SES83] a whole shelf, packed already, stays as it is when nothing is put in', () => {
    const shelf = new EntryShelf();
    for (const entry of entries) shelf.push(entry);
    shelf.fill([]);
    expect(shelf.count).toBe(entries.length);
    expect(shelf.from(0)).toEqual(entries);
  });

  test('[SES83] keeps few of many open, and takes no wrong beginning', () => {
    const shelf = new EntryShelf(100);
    shelf.fill(entries.slice(0, 99));
    expect(shelf.isWhole).toBe(false);
    for (const entry of entries.slice(100)) shelf.push(entry);
    expect(shelf.from(0)[0]?.seq).toBe(100);
    shelf.fill(entries.slice(0, 100));
    expect(shelf.packedBytes).toBeGreaterThan(0);
    // The text itself, as a bound that owes nothing to the shelf.
    expect(shelf.packedBytes).toBeLessThan(JSON.stringify(entries).length / 5);
  });
});
