/** `npm run make-error-docs`: writes docs/errors.md. */
import { writeFile } from 'node:fs/promises';
import { makeErrorDocs } from './error-docs';
import { ROOT } from './run-program';

/** Gives 0 when the page is written. */
export async function run(): Promise<number> {
  await writeFile(`${ROOT}docs/errors.md`, makeErrorDocs());
  console.log('docs/errors.md written');
  return 0;
}
