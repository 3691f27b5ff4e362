/** The rule on directions fires, and its message names the right folder. */
import { cruise } from 'dependency-cruiser';
import type { IFlattenedRuleSet } from 'dependency-cruiser';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { stripVTControlCharacters } from 'node:util';
import { afterEach, beforeEach, expect, test } from 'vitest';

const { forbidden } = createRequire(import.meta.url)('../../.dependency-cruiser.cjs') as Required<
  Pick<IFlattenedRuleSet, 'forbidden'>
>;

let root: string;

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'cuewall-directions-'));
});

afterEach(() => rm(root, { recursive: true }));

/** Writes files by path and gives what the check prints, in one line. */
async function check(files: Readonly<Record<string, string>>): Promise<string> {
  for (const [path, text] of Object.entries(files)) {
    await mkdir(dirname(join(root, path)), { recursive: true });
    await writeFile(join(root, path), text);
  }
  const { output } = await cruise(['src'], {
    baseDir: root,
    ruleSet: { forbidden },
    validate: true,
    outputType: 'err-long',
    tsPreCompilationDeps: true,
    enhancedResolveOptions: { extensions: ['.ts'] },
  });
  return stripVTControlCharacters(String(output)).replace(/\s+/g, ' ');
}

const door = (folder: string): Record<string, string> => ({
  [`src/${folder}/index.ts`]: 'export const a = 1;\n',
});

test.each([
  ['record', 'session', 'record-imports-domain-only', 'src/record may import only src/domain'],
  [
    'procedure',
    'voice',
    'procedure-imports-domain-only',
    'src/procedure may import only src/domain',
  ],
  ['windows', 'record', 'windows-imports-domain-only', 'src/windows may import only src/domain'],
  ['domain', 'record', 'domain-imports-nothing', 'src/domain is the bottom'],
  ['session', 'ui', 'session-sees-ports-not-adapters', 'built in src/main.ts or src/cli'],
  ['ui', 'record', 'ui-sees-session-review-sizing-domain', 'through src/session'],
])('[TOO11] src/%s must not import src/%s', async (from, to, rule, advice) => {
  const printed = await check({
    [`src/${from}/wrong.ts`]: `import { a } from '../${to}';\nexport const b = a;\n`,
    ...door(to),
  });
  expect(printed).toContain(`error ${rule}: src/${from}/wrong.ts → src/${to}/index.ts`);
  expect(printed).toContain(advice);
  expect(printed).toContain('1 dependency violations (1 errors');
});

test('[TOO11] a folder is entered through its door', async () => {
  const printed = await check({
    'src/session/wrong.ts': "import { a } from '../record/inside';\nexport const b = a;\n",
    'src/record/inside.ts': 'export const a = 1;\n',
  });
  expect(printed).toContain('error one-door-a-folder: src/session/wrong.ts → src/record/inside.ts');
  expect(printed).toContain('through its index.ts');
});

test('[TOO11] circles and imports that lead nowhere are found', async () => {
  const printed = await check({
    'src/review/one.ts': "import { b } from './two';\nexport const a = () => b;\n",
    'src/review/two.ts': "import { a } from './one';\nexport const b = () => a;\n",
    'src/review/three.ts': "import './nowhere';\n",
  });
  expect(printed).toContain('error no-cycles: src/review/one.ts');
  expect(printed).toContain('error no-unresolved: src/review/three.ts → ./nowhere');
});

test('[TOO11] what the table allows is allowed', async () => {
  const printed = await check({
    ...door('domain'),
    'src/record/index.ts': "export { a } from '../domain';\n",
    'src/session/index.ts': "export { a } from '../record';\n",
    'src/ui/index.ts': "export { a } from '../session';\n",
    'src/main.ts':
      "import { a } from './ui';\nimport { a as b } from './record';\nconsole.log(a, b);\n",
    'src/cli/start.ts': "export { a } from '../record';\n",
  });
  expect(printed).toContain('no dependency violations found');
});
