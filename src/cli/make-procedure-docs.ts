/** `make-procedure-docs`: writes docs/procedure.schema.json and the tables of docs/procedure-format.md. */
import { readFile, writeFile } from 'node:fs/promises';
import { makeProcedureDocs } from './procedure-docs';
import { makeProcedureSchema } from './procedure-schema';
import { ROOT } from './run-program';

/** Gives 0 when both files are written. */
export async function run(): Promise<number> {
  const page = `${ROOT}docs/procedure-format.md`;
  await writeFile(page, makeProcedureDocs(await readFile(page, 'utf8')));
  await writeFile(
    `${ROOT}docs/procedure.schema.json`,
    `${JSON.stringify(makeProcedureSchema(), null, 2)}\n`,
  );
  console.log('docs/procedure-format.md and docs/procedure.schema.json written');
  return 0;
}
