/**
 * The CSV files as a spreadsheet sees them: LibreOffice, without its windows, opens them
 * and says what it made of each cell, then saves them as CSV again. Skipped where it
 * is not installed (Debian: libreoffice-calc-nogui).
 */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { casesToCsv, phasesToCsv } from '../../src/review';
import type { CaseDigest } from '../../src/review';
import { digestOf } from './synthetic-team';

const SOFFICE = '/usr/bin/soffice';
const AT = Date.UTC(2026, 0, 5, 7, 30, 15);

/** What a spreadsheet must not run: OWASP's list for CSV injection, and what is one only behind a space. */
const HOSTILE = [
  '=1+1',
  '+1+1',
  '-1+1',
  '@SUM(1;1)',
  '\t=1+1',
  ' =1+1',
  '=HYPERLINK("http://example.invalid";"x")',
  '=cmd|"/C calc"!A0',
];
const PLAIN = ['Hüfte größer, Zwölf “Straße”', 'Épaule à gauche', '肩', '16/24', '1e5 mm'];

const cases = [...HOSTILE, ...PLAIN].map((procedure, place): CaseDigest => ({
  ...digestOf([{ id: 'reaming', passesMin: [6.375, 2] }], place),
  procedure,
  openedAt: AT,
  closedAt: AT + 3_600_000,
  named: { PIR: AT },
}));

interface Cell {
  readonly kind: string;
  /** Number or date as the spreadsheet holds it; the text of anything else. */
  readonly value: string;
  readonly isFormula: boolean;
}

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'cuewall-sheet-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

/** Comma, quotes, UTF-8, from the first line, English (US), text is not forced, dates are looked for: the choices of its dialog. */
const READ = 'CSV:44,34,76,1,,1033,false,true';

function convert(from: string, to: string): void {
  const profile = `-env:UserInstallation=file://${folder}/profile`;
  execFileSync(SOFFICE, ['--headless', profile, `--infilter=${READ}`, '--convert-to', to, '--outdir', folder, join(folder, from)], { stdio: 'pipe' }); // prettier-ignore
}

/** Rows of cells from a flat OpenDocument sheet (OASIS ODF 1.3, part 3, 9.1.4 and 19.385). */
function readSheet(xml: string): readonly (readonly Cell[])[] {
  return [...xml.matchAll(/<table:table-row[^>]*>(.*?)<\/table:table-row>/gs)].map(([, row = '']) =>
    [...row.matchAll(/<table:table-cell([^>]*?)(?:\/>|>(.*?)<\/table:table-cell>)/gs)].flatMap(
      ([, head = '', body = '']) => {
        const attribute = (name: string) => new RegExp(`${name}="([^"]*)"`).exec(head)?.[1];
        const repeated = Number(attribute('table:number-columns-repeated') ?? 1);
        const cell: Cell = {
          kind: attribute('office:value-type') ?? 'empty',
          value: attribute('office:value') ?? attribute('office:date-value') ?? toText(body),
          isFormula: attribute('table:formula') !== undefined,
        };
        return repeated > 50 ? [] : Array.from({ length: repeated }, () => cell);
      },
    ),
  );
}

function toText(body: string): string {
  return body
    .replace(/<text:s\/>/g, ' ')
    .replace(/<text:tab\/>/g, '\t')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&apos;', "'")
    .replaceAll('&quot;', '"')
    .replaceAll('&amp;', '&')
    .trim();
}

async function openInSheet(text: string) {
  await writeFile(join(folder, 'file.csv'), `\uFEFF${text}`);
  convert('file.csv', 'fods:OpenDocument Spreadsheet Flat XML');
  const [heads = [], ...rows] = readSheet(await readFile(join(folder, 'file.fods'), 'utf8'));
  const filled = rows.filter((row) => row.some(({ kind }) => kind !== 'empty'));
  return { heads, at: (row: number, name: string) => filled[row]?.[heads.findIndex(({ value }) => value === name)], rows: filled }; // prettier-ignore
}

describe.skipIf(!existsSync(SOFFICE))('in LibreOffice', { timeout: 60_000 }, () => {
  test('[REV46] no cell is a formula; dates are dates, figures figures, and every letter stands', async () => {
    const sheet = await openInSheet(casesToCsv(cases));
    expect(sheet.rows).toHaveLength(cases.length);
    expect(sheet.rows.flat().filter(({ isFormula }) => isFormula)).toEqual([]);
    for (const [row, text] of HOSTILE.entries()) {
      expect(sheet.at(row, 'procedure'), text).toMatchObject({ kind: 'string', value: `'${text}` });
    }
    for (const [row, text] of PLAIN.entries()) {
      const place = HOSTILE.length + row;
      expect(sheet.at(place, 'procedure')).toMatchObject({ kind: 'string', value: text });
    }
    expect(sheet.at(0, 'opened_utc')).toMatchObject({ kind: 'date', value: '2026-01-05T07:30:15' });
    expect(sheet.at(0, 'PIR_utc')).toMatchObject({ kind: 'date', value: '2026-01-05T07:30:15' });
    expect(sheet.at(0, 'total_min')).toMatchObject({ kind: 'float', value: '8.375' });
    expect(sheet.at(0, 'AS_utc')?.kind).toBe('empty');
  });

  test('[REV46] what a spreadsheet would have run without our apostrophe is known', async () => {
    // The check above can fail: the same texts, undefended, do become formulas.
    const sheet = await openInSheet(HOSTILE.map((text) => `"${text.replaceAll('"', '""')}"\r\n`).join('')); // prettier-ignore
    expect([...sheet.heads, ...sheet.rows.flat()].filter(({ isFormula }) => isFormula).length).toBeGreaterThan(0); // prettier-ignore
  });

  test('[REV46] saved by the spreadsheet as CSV, the rows of phases come back as they went', async () => {
    const text = phasesToCsv(cases);
    await writeFile(join(folder, 'phases.csv'), `\uFEFF${text}`);
    convert('phases.csv', 'fods:OpenDocument Spreadsheet Flat XML');
    await rm(join(folder, 'phases.csv'));
    convert('phases.fods', 'csv:Text - txt - csv (StarCalc):44,34,76');
    const back = await readFile(join(folder, 'phases.csv'), 'utf8');
    const read = (from: string) => parse(from, { columns: true, bom: true }) as object[];
    expect(read(back)).toEqual(read(text));
  });
});
