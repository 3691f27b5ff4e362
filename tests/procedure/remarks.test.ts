/** What the checker says of procedures that could run, or would get stuck. */
import { describe, expect, it } from 'vitest';
import { loadProcedure, remarkOn } from '../../src/procedure';
import type { Pronounce, Remark } from '../../src/procedure';
import flagship from '../../src/procedure/library/reverse-shoulder-glenoid.json';

/** Pronunciations from the CMU Pronouncing Dictionary 0.7b, without stress; other words by letter. */
const CMU: Readonly<Record<string, string>> = {
  thirteen: 'TH ER T IY N', thirty: 'TH ER T IY', fifteen: 'F IH F T IY N', fifty: 'F IH F T IY',
  forty: 'F AO R T IY', two: 'T UW', one: 'W AH N', three: 'TH R IY', zero: 'Z IY R OW', five: 'F AY V', four: 'F AO R',
}; // prettier-ignore
const pronounce: Pronounce = (word) => CMU[word]?.split(' ') ?? [...word];

type Json = Record<string, unknown>;

/** The flagship with its parts changed by hand. */
function changed(
  change: (procedure: Json & { tracks: Json[]; captures: Json[]; holdPoints: Json[] }) => void,
): readonly Remark[] {
  const copy = JSON.parse(JSON.stringify(flagship)) as Parameters<typeof change>[0];
  change(copy);
  const loaded = loadProcedure(copy);
  if (!loaded.ok) throw new Error(JSON.stringify(loaded.error));
  return remarkOn(loaded.value, pronounce);
}

const kinds = (remarks: readonly Remark[], isFatal: boolean) =>
  [
    ...new Set(remarks.filter((remark) => remark.isFatal === isFatal).map(({ kind }) => kind)),
  ].sort();

describe('remarks', () => {
  it('[PRO11] find nothing fatal in the flagship', () => {
    expect(
      kinds(
        changed(() => undefined),
        true,
      ),
    ).toEqual([]);
  });

  it('[PRO11] find a hold point that asks for what comes after it, and the steps that are never reached', () => {
    const remarks = changed(({ holdPoints }) => {
      const [need] = (holdPoints.find(({ id }) => id === 'post-drill')?.['needs'] ?? []) as Json[];
      if (need) Object.assign(need, { capture: 'pin-out' });
    });
    expect(kinds(remarks, true)).toEqual(['hold-never-opens', 'never-begins', 'no-way-to-the-end']);
    expect(remarks.find(({ kind }) => kind === 'hold-never-opens')?.where).toBe(
      'holdPoints.post-drill',
    );
  });

  it('[PRO12] find two phrases that are the same at one moment', () => {
    const remarks = changed(({ tracks }) => {
      (tracks[1] as Json)['doneSay'] = 'step done';
    });
    expect(remarks.find(({ kind }) => kind === 'phrase-twice')?.where).toBe('“step done”');
  });

  it('[PRO12] find values that sound alike (ISMP: 13 and 30, 15 and 50 are error-prone)', () => {
    const remarks = changed(({ captures }) => {
      const depth = captures.find(({ id }) => id === 'depth');
      const post = captures.find(({ id }) => id === 'post');
      if (depth && post) depth['values'] = post['values'] = [13, 15, 30, 42, 50];
    });
    const said = remarks
      .filter(({ kind, where }) => kind === 'sounds-alike' && where === 'captures.depth')
      .map(({ what }) => what);
    expect(said).toEqual([
      '“thirteen” and “thirty” differ in one sound',
      '“fifteen” and “fifty” differ in one sound',
    ]);
  });

  it('[PRO13] find a text that shows a size before it is captured', () => {
    const remarks = changed(({ tracks }) => {
      const [first] = (tracks[0] as { phases: { steps: Json[] }[] }).phases;
      const step = first?.steps[0];
      if (step) step['cue'] = 'Reamer {wedge}';
    });
    expect(
      remarks.filter(({ kind }) => kind === 'value-before-capture').map(({ where }) => where),
    ).toContain('steps.expose');
  });
});
