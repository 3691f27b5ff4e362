/** The results as tables to read; the JSON object comes after them. */
import { tellShare } from './proportion';
import type { Row } from './tally';

export function printTables(result: Readonly<Record<string, object>>): void {
  for (const [part, of] of Object.entries(result)) {
    console.log(`\n## ${part}\n`);
    const { rows } = of as { readonly rows?: Readonly<Record<string, Row>> | readonly object[] };
    if (rows && !Array.isArray(rows)) printRows(rows as Readonly<Record<string, Row>>);
    else console.log(JSON.stringify(of, null, 1));
  }
}

function printRows(rows: Readonly<Record<string, Row>>): void {
  const columns =
    'room | by | right % | missed % | asked | wrong % | wrong value offered % | confirmed';
  console.log(`| ${columns} |`);
  console.log(`|${'---|'.repeat(columns.split('|').length)}`);
  for (const [name, row] of Object.entries(rows).sort(([a], [b]) => (a < b ? -1 : 1))) {
    const { right, missed, asked, wrong, wrongValueOffered, wrongValueConfirmed } = row;
    const cells = [
      name, tellShare(right), missed.count, asked, tellShare(wrong),
      tellShare(wrongValueOffered), wrongValueConfirmed.count,
    ]; // prettier-ignore
    console.log(`| ${cells.join(' | ')} |`);
  }
}
