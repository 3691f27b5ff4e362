/**
 * `npm run bench -- merge FILE...`: adds up what `bench -- voice --shard 1/n` to `n/n`
 * printed, each into its own file. Rows of commands, cards and digits, and of talk; the
 * other parts are not cut up.
 */
import { readFileSync } from 'node:fs';
import { lastObjectOf } from './held-out/last-object';
import { mergeRows } from './held-out/tally';
import type { Row } from './held-out/tally';
import { TalkCounts } from './held-out/talk-counts';
import type { TalkRows } from './held-out/talk-counts';
import { printTables } from './held-out/tables';

/** One part of the bench as a process printed it. */
interface Printed {
  readonly rows?: Readonly<Record<string, Row>>;
  readonly talk?: TalkRows;
  readonly wrongs?: readonly object[];
}

export function benchMerge(files: readonly string[]): object {
  const parts = files.map(
    (file) => lastObjectOf(readFileSync(file, 'utf8'), file) as Readonly<Record<string, Printed>>,
  );
  const names = [...new Set(parts.flatMap((part) => Object.keys(part)))];
  const result = Object.fromEntries(
    names.map((name) => [name, mergePart(parts.flatMap((part) => part[name] ?? []))]),
  );
  printTables(result);
  return result;
}

function mergePart(printed: readonly Printed[]): object {
  const counts = new TalkCounts();
  for (const { talk } of printed) counts.addRows(talk ?? {});
  return {
    parts: printed.length,
    ...(printed.some(({ rows }) => rows) && {
      rows: mergeRows(printed.flatMap(({ rows }) => (rows ? [rows] : []))),
    }),
    ...(printed.some(({ talk }) => talk) && { talk: counts.rows }),
    wrongs: printed.flatMap(({ wrongs }) => wrongs ?? []),
  };
}
