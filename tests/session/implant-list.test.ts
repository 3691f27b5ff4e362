/** The implant list as a file, read back by an independent CSV reader. */
import { parse } from 'csv-parse/sync';
import { expect, it } from 'vitest';
import { implantListToCsv, implantListToJson } from '../../src/session';
import { openSampleCase } from '../support/sample-case';

/** A product number with a right check digit from GS1's own tests, and one of HIBC's vectors. */
const GS1 = '(01)09520123456788(17)271130(10)LOT"1(21)=S1';
const HIBC = '+A99912345/$$52001510X3/16D20111212/S77DEFG457';

it('[IMP21] has a row a pack with all that its label says, and the mode', async () => {
  const { session } = await openSampleCase();
  for (const text of [GS1, HIBC]) {
    const { refusal } = await session.submit(
      { type: 'label.scan', text, isAnother: false },
      'desk',
    );
    expect(refusal).toBeNull();
  }
  const rows: Record<string, string>[] = parse(implantListToCsv(session.view), { columns: true });
  expect(rows).toHaveLength(2);
  expect(rows[0]).toMatchObject({
    mode: 'demo', state: 'scanned', product: '09520123456788', lot: 'LOT"1', expires_on: '2027-11-30', label: GS1,
  }); // prettier-ignore
  // A spreadsheet would run it as a formula.
  expect(rows[0]?.['serial']).toBe("'=S1");
  expect(rows[1]).toMatchObject({ scheme: 'hibc', lot: '10X3', serial: '77DEFG45', expires_on: '2020-01-15', made_on: '2011-12-12' }); // prettier-ignore
  expect(rows[1]?.['findings']).toContain('expired');
  const file = JSON.parse(implantListToJson(session.view)) as { mode: string; packs: unknown[] };
  expect([file.mode, file.packs.length]).toEqual(['demo', 2]);
});
