/** Catalogues: their format, chains and stock. Sizes of the families are invented. */
import { expect, test } from 'vitest';
import {
  articleOfNumber, catalogueFor, checkCatalogue, expectSizes, findArticle, findBreaks, listArticles, listBreaks,
  listShortages, loadCatalogue,
} from '../../src/sizing'; // prettier-ignore
import type { Catalogue } from '../../src/sizing';
import { mod10CheckDigit } from '../../src/labels';
import { BUILT_IN_CATALOGUES } from '../../src/sizing/library';

function built(procedure: string): Catalogue {
  const found = catalogueFor(procedure);
  if (!found) throw new Error(`no catalogue for ${procedure}`);
  return found;
}
const shoulder = built('reverse-shoulder-glenoid');

test('[CAT1] the built-in catalogues are right, and each is found by its procedures', () => {
  for (const data of BUILT_IN_CATALOGUES) {
    expect(checkCatalogue(data)).toMatchObject({ ok: true });
  }
  expect(built('wrist-plate').id).toBe('example-w');
  expect(built('cemented-hip').id).toBe('example-h');
  expect(catalogueFor('no-such-procedure')).toBeNull();
});

test('[CAT1] label numbers of the invented families are real numbers of the prefix for examples', () => {
  const numbers = ['reverse-shoulder', 'wrist-plate', 'cemented-hip'].flatMap((procedure) =>
    built(procedure).components.flatMap((component) => Object.values(component.numbers).flat()),
  );
  expect(numbers.length).toBeGreaterThan(60);
  expect(new Set(numbers).size).toBe(numbers.length);
  for (const number of numbers) {
    expect(number).toMatch(/^0952\d{10}$/);
    expect(String(mod10CheckDigit(number.slice(0, -1)))).toBe(number.slice(-1));
  }
});

const changed = (change: (copy: Catalogue) => void): unknown => {
  const copy = structuredClone(shoulder);
  change(copy);
  return copy;
};

test.each([
  ['a wrong format', (copy: Catalogue) => Object.assign(copy, { format: 2 }), 'format'],
  ['a slot of no component', (copy: Catalogue) => { Object.assign(copy.slots[0] ?? {}, { component: 'none' }); }, 'slots.0.component'],
  ['a slot of no attribute', (copy: Catalogue) => { Object.assign(copy.slots[0] ?? {}, { from: { size: 'wedge' } }); }, 'slots.0.from'],
  ['a fit of no attribute', (copy: Catalogue) => { Object.assign(copy.fits[0]?.one ?? {}, { attribute: 'size' }); }, 'fits.0.one.attribute'],
  ['a pair of no size', (copy: Catalogue) => { Object.assign(copy.fits[4] ?? {}, { rule: { type: 'pairs', pairs: [['huge', [36]]] } }); }, 'fits.4.rule.pairs.0'],
  ['a number of no article', (copy: Catalogue) => { Object.assign(copy.components[5] ?? {}, { numbers: { 'post-99': ['1'] } }); }, 'components.5.numbers'],
  ['an id twice', (copy: Catalogue) => { Object.assign(copy.slots[1] ?? {}, { id: 'sizer' }); }, 'slots'],
  ['a word the machine knows', (copy: Catalogue) => { copy.id = 'constructor'; }, 'id'],
])('[CAT2] %s is told with its place', (_, change, path) => {
  const data = changed(change);
  const checked = checkCatalogue(data);
  expect(checked.ok).toBe(false);
  if (!checked.ok) expect(checked.error[0]?.path).toBe(path);
  expect(loadCatalogue(data)).toMatchObject({ ok: false, error: { code: 'catalogue-invalid', params: { path } } });
}); // prettier-ignore

test.each([null, 3, 'text', [], { format: 1 }])('[CAT2] %o is no catalogue', (data) => {
  expect(checkCatalogue(data).ok).toBe(false);
});

test('[CAT3] a component in its sizes and sides gives one article each', () => {
  const baseplate = shoulder.components.find(({ id }) => id === 'baseplate');
  const articles = baseplate ? listArticles(baseplate) : [];
  expect(articles).toHaveLength(3 * 2 * 2);
  expect(findArticle(shoulder, 'baseplate-24-small-right')).toMatchObject({
    title: 'Baseplate 24°, small, right',
    side: 'right',
    values: { wedge: 24, plate: 'small' },
  });
  const [number = ''] = baseplate?.numbers['baseplate-24-small-right'] ?? [];
  expect(articleOfNumber(shoulder, {}, number)?.id).toBe('baseplate-24-small-right');
  expect(articleOfNumber(shoulder, { '123': 'post-20' }, '123')?.id).toBe('post-20');
  expect(articleOfNumber(shoulder, {}, '124')).toBeNull();
});

const slotOf = (catalogue: Catalogue, id: string) => {
  const slot = catalogue.slots.find((other) => other.id === id);
  if (!slot) throw new Error(id);
  return slot;
};

test('[CAT4] a post other than the drilled depth breaks its chain, and the one that fits is named', () => {
  const breaks = findBreaks(shoulder, slotOf(shoulder, 'post'), { length: 28 }, { depth: 24 });
  expect(breaks.map(({ fit, wouldFit }) => [fit.id, fit.onBreak, wouldFit])).toEqual([
    ['drill-to-post', 'stop', ['24 mm']],
  ]);
  expect(findBreaks(shoulder, slotOf(shoulder, 'post'), { length: 24 }, { depth: 24 })).toEqual([]);
  expect(findBreaks(shoulder, slotOf(shoulder, 'post'), { length: 28 }, {})).toEqual([]);
});

test('[CAT4] plate to glenosphere is asked about, glenosphere to liner and liner to stem stop', () => {
  const sphere = findBreaks(
    shoulder,
    slotOf(shoulder, 'glenosphere'),
    { size: 44 },
    { plate: 'small' },
  );
  expect(sphere[0]).toMatchObject({ fit: { onBreak: 'ask' }, wouldFit: ['36 mm', '40 mm'] });
  const liner = findBreaks(
    shoulder,
    slotOf(shoulder, 'liner'),
    { size: 36, height: 9 },
    { sphere: 40, 'final-stem': 8 },
  );
  expect(liner.map(({ fit }) => fit.id).sort()).toEqual(['liner-to-stem', 'sphere-to-liner']);
  expect(liner.find(({ fit }) => fit.id === 'liner-to-stem')?.wouldFit).toEqual([
    '0 mm',
    '3 mm',
    '6 mm',
  ]);
});

test('[CAT4] breaks among chosen sizes are told once each', () => {
  expect(
    listBreaks(shoulder, { depth: 24, post: 28, plate: 'small', sphere: 40 }).map(
      ({ fit }) => fit.id,
    ),
  ).toEqual(['drill-to-post']);
  const hip = built('cemented-hip');
  const chosen = {
    cup: 48,
    liner: 32,
    head: 36,
    'head-neck': 'long',
    'head-taper': 10,
    'stem-taper': 12,
  };
  expect(listBreaks(hip, chosen).map(({ fit }) => fit.id)).toEqual([
    'cup-to-liner',
    'liner-to-head',
    'stem-to-head',
  ]);
  const wrist = built('wrist-plate');
  expect(listBreaks(wrist, { 'sleeve-fitted': 1.9, 'shaft-size': 3.4 })[0]?.wouldFit).toEqual([
    '2.6 mm',
  ]);
});

/** Common practice, for checking that the rules can say such things; not Example S's sizes. */
test('[CAT4] facts of the trade can be written: one drill for two kinds of screw, drill and post of one number', () => {
  const size = (id: string, values: (number | string)[], unit: 'mm' | 'none' = 'mm') => ({
    id,
    title: id,
    unit,
    values,
  });
  const trade: unknown = {
    format: 1, id: 'trade', title: 'Trade', note: 'Common practice.', procedures: [],
    components: [
      { id: 'drill', title: 'Drill', kind: 'instrument', attributes: [size('size', [3])] },
      { id: 'screw', title: 'Screw', kind: 'implant', attributes: [size('size', [4.5, 5.5]), size('kind', ['locking', 'non-locking'], 'none')] },
    ],
    slots: [
      { id: 'drill', title: 'Drill', component: 'drill', from: { size: 'drill' } },
      { id: 'screw', title: 'Screw', component: 'screw', from: { size: 'screw', kind: 'kind' } },
    ],
    fits: [{ id: 'drill-to-screw', title: 'A 3 mm drill serves both', one: { component: 'drill', attribute: 'size' }, other: { component: 'screw', attribute: 'size' }, rule: { type: 'pairs', pairs: [[3, [4.5, 5.5]]] }, onBreak: 'stop' }],
  }; // prettier-ignore
  const checked = checkCatalogue(trade);
  if (!checked.ok) throw new Error(JSON.stringify(checked.error));
  for (const [screw, kind] of [
    [4.5, 'non-locking'],
    [5.5, 'locking'],
  ] as const) {
    expect(listBreaks(checked.value, { drill: 3, screw, kind })).toEqual([]);
  }
  expect(listBreaks(checked.value, { drill: 2.5, screw: 4.5 })).toHaveLength(1);
});

test('[CAT5] likely sizes follow from confirmed ones before planned ones', () => {
  const expected = expectSizes(shoulder, { depth: 24 }, { post: 20, sphere: 40 });
  expect(expected).toMatchObject({ depth: 24, post: 24, sphere: 40 });
});

test('[CAT5] a likely size that was counted as none is told early; an uncounted one is not', () => {
  const shortages = (stock: Record<string, number>, filled: readonly string[] = []) =>
    listShortages(shoulder, stock, { depth: 24 }, { wedge: 16, plate: 'small', sphere: 40 }, 'right', new Set(filled))
      .map(({ article, isConfirmed }) => [article.id, isConfirmed]); // prettier-ignore
  expect(shortages({})).toEqual([]);
  expect(shortages({ 'post-24': 0, 'post-20': 0, 'glenosphere-40': 2 })).toEqual([
    ['post-24', false],
  ]);
  expect(shortages({ 'baseplate-16-small-right': 0, 'baseplate-16-small-left': 0 })).toEqual([
    ['baseplate-16-small-right', false],
  ]);
  expect(shortages({ 'post-24': 0 }, ['post'])).toEqual([]);
});
