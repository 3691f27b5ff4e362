/** The description of the record for people says what the code says. */
import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { listFactTypes } from '../../src/record/envelope';

test('[REC20] docs/record-format.md describes every type of entry, and no other', () => {
  const text = readFileSync(new URL('../../docs/record-format.md', import.meta.url), 'utf8');
  const described = [...text.matchAll(/^\| `([a-z]+\.[a-zA-Z]+)` \|/gm)].map(([, type]) => type);
  expect(described.sort()).toEqual([...listFactTypes()].sort());
});
