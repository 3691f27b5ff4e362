/**
 * `npm run verify`: everything that must hold before a change is taken: form, types,
 * directions, dead code, spec ids, then the tests. With `--without-tests` the tests
 * are left to `npm test`. All checks run; the failed ones are named together.
 */
import { ROOT, runProgram, runTool } from './run-program';

interface Check {
  readonly name: string;
  run(): Promise<number>;
}

/** What a second run need not look at again; a fresh clone has none of it. */
const CACHE = '.cache';

const CHECKS: readonly Check[] = [
  {
    name: 'form (prettier)',
    run: () =>
      runTool('prettier', ['--check', '--log-level=warn', '.', ...cacheByContent('prettier')]),
  },
  // No rule of ours looks into another file, so a file that has not changed needs no second look.
  { name: 'lint (eslint)', run: () => runTool('eslint', ['.', ...cacheByContent('eslint')]) },
  { name: 'types (tsc)', run: () => checkTypes('tsconfig.json') },
  {
    name: 'types without a browser (tsc, pure folders)',
    run: () => checkTypes('tsconfig.pure.json'),
  },
  {
    name: 'types of components (svelte-check)',
    run: () => runTool('svelte-check', ['--tsconfig', 'tsconfig.json', '--fail-on-warnings']),
  },
  {
    name: 'directions (depcruise)',
    run: () =>
      runTool('depcruise', ['src', '--config', '.dependency-cruiser.cjs', '-T', 'err-long']),
  },
  { name: 'dead code (knip)', run: () => runTool('knip', ['--no-progress']) },
  { name: 'spec ids', run: () => runCommand('check-spec-ids') },
];

/** Gives 0 where every check and, unless left out, every test passed. */
export async function run(args: readonly string[]): Promise<number> {
  const failed: string[] = [];
  for (const { name, run: check } of CHECKS) {
    console.log(`--- ${name}`);
    if ((await check()) !== 0) failed.push(name);
  }
  console.log(failed.length === 0 ? 'All checks passed.' : `Checks failed: ${failed.join('; ')}.`);
  const tests = args.includes('--without-tests') ? 0 : await runProgram('npm', ['test']);
  return failed.length === 0 ? tests : 1;
}

function cacheByContent(tool: string): readonly string[] {
  return ['--cache', '--cache-strategy=content', `--cache-location=${CACHE}/verify/${tool}`];
}

function checkTypes(project: string): Promise<number> {
  const kept = `${CACHE}/verify/${project}.tsbuildinfo`;
  return runTool('tsc', ['--noEmit', '-p', project, '--incremental', '--tsBuildInfoFile', kept]);
}

function runCommand(name: string): Promise<number> {
  return runProgram(process.execPath, ['--import', 'tsx', `${ROOT}src/cli/main.ts`, name]);
}
