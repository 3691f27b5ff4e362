/**
 * Reads docs/spec.md, docs/spec-parts and tests, and fails where rules and test names
 * do not agree.
 */
import { existsSync } from 'node:fs';
import { readFile, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { ROOT } from './run-program';
import { compareSpecIds, findRuleIds, findTestedIds } from './spec-ids';

/** Gives 0 where every rule has a test and every test a rule. */
export async function run(): Promise<number> {
  const parts = await listFiles(join(ROOT, 'docs/spec-parts'), '.md');
  const whole = join(ROOT, 'docs/spec.md');
  const rules = await collect(existsSync(whole) ? [whole, ...parts] : parts, findRuleIds);
  const tests = await listFiles(join(ROOT, 'tests'), '.ts');
  const { untested, unknown, doubled } = compareSpecIds(rules, await collect(tests, findTestedIds));
  for (const id of untested) console.error(`${id}: no test name begins with [${id}]`);
  for (const id of unknown) console.error(`${id}: a test names it, docs/spec-parts does not`);
  for (const id of doubled) console.error(`${id}: given twice in the docs`);
  const count = untested.length + unknown.length + doubled.length;
  console.log(`${new Set(rules).size} rules, ${count} disagreements`);
  return count === 0 ? 0 : 1;
}

async function collect(
  files: readonly string[],
  find: (text: string) => readonly string[],
): Promise<readonly string[]> {
  const found = await Promise.all(files.map(async (file) => find(await readFile(file, 'utf8'))));
  return found.flat();
}

async function listFiles(folder: string, ending: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { withFileTypes: true, recursive: true });
  return entries
    .filter((entry) => entry.isFile() && entry.name.endsWith(ending))
    .map((entry) => join(entry.parentPath, entry.name));
}
