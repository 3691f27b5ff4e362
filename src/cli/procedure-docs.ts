/** The tables of docs/procedure-format.md: every object and field of the format, and the kinds of findings. */
import { FINDING_KINDS } from '../procedure';
import { makeProcedureSchema } from './procedure-schema';
import type { JsonSchema } from './procedure-schema';

/** Between these lines of the page everything is made; the rest is written by hand. */
export const MADE_FROM = '<!-- made by make-procedure-docs: do not edit below -->';

/** What a field means wherever the schema does not say it beside the field. */
const MEANINGS: Readonly<Record<string, string>> = {
  id: 'its name in this file',
  title: 'what the screens call it',
  label: 'what the screens call it',
  say: 'the words that say it',
  kind: 'which kind it is',
  type: 'which kind it is',
  value: 'the value that it must have',
  of: 'the value of the other capture',
  is: 'the value that goes with it',
  are: 'the values that go with it',
  step: 'the step',
  capture: 'the capture',
  milestone: 'the named time of the case',
  phases: 'its phases in order',
  steps: 'its steps in order; a repeat stands for a group of steps',
  repeat: 'a group of steps that is done for each item',
  captures: 'what is captured',
  alternatives: 'other ways on',
  roles: 'the roles of the team',
  instruments: 'what has to be at the table',
  derived: 'values that follow from captured numbers',
  constraints: 'what must agree between captures',
  timers: 'times that the wall watches',
  tallies: 'what is counted up one by one',
  countItems: 'what is counted',
  counts: 'when it is counted',
  tracks: 'the strands that run side by side',
  holdPoints: 'what must be true before a step begins or a value is taken',
  when: 'the capture and the value that send it back',
  endLabel: 'the button that ends it early',
  three: 'what lies at three',
  nine: 'what lies at nine',
  from: 'the first value',
  to: 'the last value',
};

/** The page with everything below the marker made anew. */
export function makeProcedureDocs(page: string): string {
  const written = page.slice(0, page.indexOf(MADE_FROM));
  return [
    `${written}${MADE_FROM}`,
    '',
    '## All objects and fields',
    '',
    ...makeTables(),
    '## Kinds of findings',
    '',
    'A fatal one refuses the file; the others are remarks. The codes are stable.',
    '',
    '| kind | fatal | what to do |',
    '|---|---|---|',
    ...Object.entries(FINDING_KINDS).map(
      ([kind, { isFatal, advice }]) =>
        `| \`${kind}\` | ${isFatal ? 'yes' : 'no'} | ${toCell(advice)} |`,
    ),
    '',
  ].join('\n');
}

function makeTables(): readonly string[] {
  const schema = makeProcedureSchema();
  return [['Procedure', schema] as const, ...Object.entries(schema.$defs ?? {})].flatMap(
    ([name, part]) => [
      `### ${name}`,
      '',
      ...(part.oneOf ?? [part]).flatMap((variant) => [
        '| field | type | needed | default | meaning |',
        '|---|---|---|---|---|',
        ...listRows('', variant),
        '',
      ]),
    ],
  );
}

function listRows(prefix: string, { properties = {}, required = [] }: JsonSchema): string[] {
  return Object.entries(properties).flatMap(([key, field]) => {
    const isNeeded = required.includes(key);
    const initial = field.default === undefined ? '' : `\`${JSON.stringify(field.default)}\``;
    const meaning = field.description ?? MEANINGS[key];
    if (meaning === undefined) throw new Error(`No meaning for "${key}"`);
    const row = `| \`${prefix}${key}\` | ${toCell(typeOf(field))} | ${isNeeded ? 'yes' : 'no'} | ${initial} | ${toCell(meaning)} |`;
    return [row, ...listInner(`${prefix}${key}`, field)];
  });
}

/** Rows of objects that have no name of their own. */
function listInner(place: string, field: JsonSchema): readonly string[] {
  if (field.properties) return listRows(`${place}.`, field);
  if (field.items) return listInner(`${place}[]`, field.items);
  return (field.anyOf ?? field.oneOf ?? []).flatMap((one) => listInner(place, one));
}

function typeOf(field: JsonSchema): string {
  if (field.$ref) return field.$ref.replace('#/$defs/', '');
  if (field.const !== undefined) return JSON.stringify(field.const);
  if (field.enum) return field.enum.map((one) => JSON.stringify(one)).join(', ');
  const several = field.anyOf ?? field.oneOf;
  if (several) return [...new Set(several.map(typeOf))].join(' or ');
  if (field.items) return `list${limits(field.minItems, field.maxItems)} of ${typeOf(field.items)}`;
  if (field.type === 'string') return `text${limits(field.minLength, field.maxLength)}`;
  return `${String(field.type)}${limits(field.minimum, field.maximum)}`;
}

function limits(least?: number, most?: number): string {
  if (least === undefined && most === undefined) return '';
  if (least === undefined) return ` (at most ${most})`;
  return most === undefined ? ` (at least ${least})` : ` (${least} to ${most})`;
}

function toCell(text: string): string {
  return text.replaceAll('|', '\\|');
}
