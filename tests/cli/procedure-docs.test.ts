/** The page and the JSON Schema of procedure files are what the format says, and another validator reads the schema alike. */
import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { makeProcedureDocs, MADE_FROM } from '../../src/cli/procedure-docs';
import { makeProcedureSchema } from '../../src/cli/procedure-schema';
import { checkProcedure } from '../../src/procedure';
import { BUILT_IN } from '../../src/procedure/library';
import { BASE, breakBase, CASES } from '../procedure/corpus/corpus';

const readDoc = (name: string) =>
  readFileSync(new URL(`../../docs/${name}`, import.meta.url), 'utf8');

/** ajv: JSON Schema draft 2020-12 by other authors. */
const validate = new Ajv2020({ strict: false }).compile(
  JSON.parse(readDoc('procedure.schema.json')) as object,
);

describe('the documentation of the procedure format', () => {
  it('[CHK1] has the tables and the JSON Schema that the format gives (make-procedure-docs)', () => {
    const page = readDoc('procedure-format.md');
    expect(page).toContain(MADE_FROM);
    expect(page).toBe(makeProcedureDocs(page));
    expect(JSON.parse(readDoc('procedure.schema.json'))).toEqual(makeProcedureSchema());
  });

  it('[CHK1] shows an example that the checker takes', () => {
    const example = /```json\n([\s\S]*?)```/.exec(readDoc('procedure-format.md'))?.[1] ?? '';
    expect(checkProcedure(JSON.parse(example))).toMatchObject({ ok: true });
  });

  it.each([['base', BASE], ...Object.entries(BUILT_IN)])('[CHK1] ajv accepts %s', (_, data) => {
    expect(validate(data)).toBe(true);
  });

  it.each(CASES)('[CHK1] ajv agrees on the shape of $name', (broken) => {
    const isShapeless = broken.finds.some(([kind]) => kind === 'shape');
    expect(validate(breakBase(broken))).toBe(!isShapeless);
  });
});
