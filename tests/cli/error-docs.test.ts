/** The page of errors for people is the catalogue. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { makeErrorDocs } from '../../src/cli/error-docs';

test('[TOO9] docs/errors.md is made from the catalogue (npm run make-error-docs)', () => {
  const page = readFileSync(new URL('../../docs/errors.md', import.meta.url), 'utf8');
  expect(page).toBe(makeErrorDocs());
});
