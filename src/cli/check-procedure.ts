/**
 * `npm run check-procedure -- FILE [--json]`: what is wrong with a procedure file, in
 * lines for people or as one JSON object. Exit code 0 where it can run and nothing
 * fatal was found, 1 where not, 2 where the file can't be read.
 */
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import { checkProcedure, compileProcedure, remarkOn } from '../procedure';
import type { Finding, Pronounce, Remark } from '../procedure';
import { pronunciationOf } from '../voice';
import { MODEL_FILES } from './sound-files';

interface Report {
  readonly file: string;
  readonly canRun: boolean;
  /** Faults of shape and reference: the file can't run. */
  readonly findings: readonly Finding[];
  /** What was found by walking it and listening to it. */
  readonly remarks: readonly Remark[];
}

export async function run(args: readonly string[]): Promise<number> {
  const file = args.find((arg) => !arg.startsWith('--'));
  if (file === undefined) {
    console.error('Give a procedure file.');
    return 2;
  }
  const read = await readJson(file);
  if (!read.ok) {
    console.error(read.problem);
    return 2;
  }
  const report = await checkFile(file, read.data);
  console.log(args.includes('--json') ? JSON.stringify(report) : toLines(report).join('\n'));
  return report.canRun ? 0 : 1;
}

async function checkFile(file: string, data: unknown): Promise<Report> {
  const checked = checkProcedure(data);
  if (!checked.ok) return { file, canRun: false, findings: checked.error, remarks: [] };
  const remarks = remarkOn(compileProcedure(checked.value), await loadPronunciations());
  return { file, canRun: !remarks.some(({ isFatal }) => isFatal), findings: [], remarks };
}

function toLines({ file, canRun, findings, remarks }: Report): readonly string[] {
  return [
    ...findings.map(
      ({ path: at, expected, received }) => `fault  ${at}: expected ${expected}, found ${received}`,
    ),
    ...remarks.map(
      ({ isFatal, where, what, advice }) =>
        `${isFatal ? 'fault ' : 'remark'} ${where}: ${what}. ${advice}`,
    ),
    `${file}: ${canRun ? 'can run' : 'can’t run'}, ${findings.length} faults of form, ${remarks.length} remarks`,
  ];
}

async function readJson(
  file: string,
): Promise<
  { readonly ok: true; readonly data: unknown } | { readonly ok: false; readonly problem: string }
> {
  try {
    return { ok: true, data: JSON.parse(await readFile(path.resolve(file), 'utf8')) as unknown };
  } catch (cause) {
    return {
      ok: false,
      problem: `${file}: ${cause instanceof Error ? cause.message : String(cause)}`,
    };
  }
}

/** The listener's own dictionary: one word and its phonemes a line. */
async function loadPronunciations(): Promise<Pronounce> {
  const text = await readFile(path.join(MODEL_FILES.modelBase, 'en-us/dict.txt'), 'utf8');
  const sounds = new Map<string, readonly string[]>();
  for (const line of text.split('\n')) {
    const [word, ...phones] = line.trim().split(/\s+/);
    if (word && !sounds.has(word)) sounds.set(word, phones);
  }
  return (word) => sounds.get(word) ?? pronunciationOf(word);
}
