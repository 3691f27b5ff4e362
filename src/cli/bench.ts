/**
 * `npm run bench -- NAME [OPTION...]`: runs tests/bench/NAME.ts and prints its result as
 * one JSON object, last. A bench file exports `bench` with its name in capitals, such as
 * `benchRecord`; options go to it as they are.
 */
import { readdir } from 'node:fs/promises';
import { ROOT } from './run-program';

/** Gives 0 where the bench ran to its end, whatever it measured. */
export async function run([name = '', ...options]: readonly string[]): Promise<number> {
  const folder = new URL('tests/bench/', `file://${ROOT}`);
  const names = (await readdir(folder))
    .filter((file) => file.endsWith('.ts'))
    .map((file) => file.replace(/\.ts$/, ''));
  if (!names.includes(name)) {
    console.error(`Unknown bench "${name}". There are: ${names.join(', ')}.`);
    return 2;
  }
  const exported = (await import(new URL(`${name}.ts`, folder).href)) as Record<string, unknown>;
  const bench = exported[`bench${toCapitals(name)}`];
  if (typeof bench !== 'function') throw new Error(`tests/bench/${name}.ts exports no bench`);
  console.log(JSON.stringify(await bench(options), null, 1));
  return 0;
}

/** As an exported name has it: `spoken-case` is `SpokenCase`. */
function toCapitals(name: string): string {
  return name.replace(/(?:^|-)(.)/g, (_, letter: string) => letter.toUpperCase());
}
