/** The results as tables to read; the JSON object comes after them. */
import { tellShare } from './proportion';
import type { Row } from './tally';
import type { TalkRows } from './talk-counts';

interface Printable {
  readonly rows?: Readonly<Record<string, Row>>;
  readonly talk?: TalkRows;
}

export function printTables(result: Readonly<Record<string, object>>): void {
  for (const [part, of] of Object.entries(result)) {
    console.log(`\n## ${part}\n`);
    const { rows, talk } = of as Printable;
    if (rows) printRows(rows);
    else if (talk) printTalk(talk);
    else console.log(JSON.stringify(of, null, 1));
  }
}

function printTalk(talk: TalkRows): void {
  console.log('| talk | by | hours | taken | fewer an hour than | asked again |');
  console.log(`|${'---|'.repeat(6)}`);
  for (const [name, row] of Object.entries(talk)) {
    const { hours, activations, upper95PerHour, askedAgain } = row;
    const cells = [
      name,
      hours.toFixed(2),
      activations.length,
      upper95PerHour.toFixed(1),
      askedAgain,
    ];
    console.log(`| ${cells.join(' | ')} |`);
  }
}

function printRows(rows: Readonly<Record<string, Row>>): void {
  const columns =
    'room | by | right % | missed | asked | wrong % | wrong value offered % | confirmed';
  console.log(`| ${columns} |`);
  console.log(`|${'---|'.repeat(columns.split('|').length)}`);
  for (const [name, row] of Object.entries(rows).sort(([a], [b]) => (a < b ? -1 : 1))) {
    const { right, missed, asked, wrong, wrongValueOffered, wrongValueConfirmed } = row;
    const cells = [
      name, tellShare(right), missed.count, asked, tellShare(wrong),
      tellShare(wrongValueOffered), wrongValueConfirmed?.count ?? '–',
    ]; // prettier-ignore
    console.log(`| ${cells.join(' | ')} |`);
  }
}
