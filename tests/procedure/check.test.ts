/** What is wrong with a file is found and said, with its place. */
import { describe, expect, it } from 'vitest';
import { checkProcedure, listBuiltIn, loadBuiltIn, loadProcedure } from '../../src/procedure';
import { BUILT_IN } from '../../src/procedure/library';
import flagship from '../../src/procedure/library/reverse-shoulder-glenoid.json';

/** A copy of the flagship with one thing changed, at a path such as `holdPoints.0.needs.0.capture`. */
function changed(path: string, value: unknown): unknown {
  const copy = JSON.parse(JSON.stringify(flagship)) as Record<string, unknown>;
  const keys = path.split('.');
  const last = keys.pop() ?? '';
  const parent = keys.reduce<Record<string, unknown>>(
    (node, key) => node[key] as Record<string, unknown>,
    copy,
  );
  parent[last] = value;
  return copy;
}

const BROKEN: readonly (readonly [string, unknown, string])[] = [
  ['format', 2, 'format'],
  ['title', '', 'title'],
  ['unheardOf', 1, 'unheardOf'],
  ['tracks', [], 'tracks'],
  ['captures.1.values', [], 'captures.1.values'],
  ['captures.1.values', ['8'], 'captures.1.values'],
  ['captures.1.say', 'Wedge 1', 'captures.1.say'],
  ['captures.1.id', 'depth', 'captures'],
  ['tracks.0.phases.0.steps.0.id', 'ream', 'steps'],
  ['tracks.0.phases.0.steps.0.captures', ['nobody'], 'steps.expose.captures'],
  ['tracks.0.phases.4.steps.0.say', undefined, 'steps.insert-baseplate.say'],
  ['tracks.0.phases.2.steps.2.loop.backTo', 'measure-depth', 'steps.try-seat.loop.backTo'],
  ['tracks.0.phases.2.steps.2.loop.when.is', 'perhaps', 'steps.try-seat.loop.when'],
  ['tracks.0.phases.0.steps.0.detail', 'Use {nothing}.', 'steps.expose.detail'],
  ['holdPoints.0.guards.step', 'nowhere', 'holdPoints.reamer-build.guards'],
  ['holdPoints.0.needs.0.capture', 'nothing', 'holdPoints.reamer-build.needs.0'],
  ['holdPoints.0.needs', [], 'holdPoints.0.needs'],
];

describe('checkProcedure', () => {
  it('[PRO5] accepts every built-in procedure', () => {
    expect(listBuiltIn().map(({ id }) => id)).toEqual(Object.keys(BUILT_IN));
    expect(checkProcedure(flagship).ok).toBe(true);
  });

  it.each(BROKEN)('[PRO6] finds what is wrong at %s = %j', (path, value, where) => {
    const checked = checkProcedure(changed(path, value));
    expect(checked.ok ? [] : checked.error.map((finding) => finding.path)).toContain(where);
  });

  it.each([null, 3, 'text', [], {}])('[PRO6] refuses %j without failing', (data) => {
    const loaded = loadProcedure(data);
    expect(loaded.ok ? null : loaded.error.code).toBe('procedure-invalid');
  });

  it('[PRO7] says so when a procedure is not known', () => {
    const loaded = loadBuiltIn('no-such');
    expect(loaded.ok ? null : loaded.error).toEqual({
      code: 'procedure-unknown',
      params: { name: 'no-such' },
    });
  });
});
