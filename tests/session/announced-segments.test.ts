import { expect, it } from 'vitest';
import { loadBuiltIn } from '../../src/procedure';
import { emptyContext } from '../../src/procedure/context';
import { fillSegments } from '../../src/session/announced/announced-segments';

it('[SES12] a full stop after a value is no piece to be said: an imported procedure may have one', () => {
  const compiled = loadBuiltIn('reverse-shoulder-glenoid');
  if (!compiled.ok) throw new Error('The flagship does not load');
  const context = { ...emptyContext(), confirmed: { wedge: 16 } };
  // Numbers are said digit by digit.
  expect(fillSegments(compiled.value, 'Reamer {wedge}.', context)).toEqual(['Reamer', 'one six']);
});
