/**
 * The FHIR bundle of a whole case as the record has it: what was implanted with its label,
 * what was wasted not at all, overrides when they were confirmed. Labels follow the GS1
 * general specifications (01, 17, 10, 21); their numbers are Example S's, invented.
 */
import { beforeAll, describe, expect, test } from 'vitest';
import { caseToFhirText } from '../../src/app/keeping/case-fhir';
import { asId } from '../../src/domain';
import type { RoomOrder } from '../../src/domain';
import { digestCase, foldSizes } from '../../src/review';
import { catalogueFor } from '../../src/sizing';
import { findByHand, listResources } from '../review/fhir-by-hand';
import { makeValidators } from '../review/fhir-validators';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const GS = '\u001d';
let validators: ReturnType<typeof makeValidators>;
beforeAll(() => {
  validators = makeValidators();
}, 120_000);

/** The case up to the baseplate's hold point, which is passed by override, with two packs scanned. */
async function makeBundle() {
  const sample = await openSampleCase();
  const { session, say } = sample;
  const give = (order: RoomOrder) => session.submit(order, 'desk');
  await say(...WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('post two four')));
  const number = (article: string) =>
    catalogueFor('reverse-shoulder-glenoid')
      ?.components.map(({ numbers }) => numbers[article]?.[0])
      .find((found) => found !== undefined) ?? '';
  const article =
    session.view.implants.articles.find(({ title }) => title === 'Post 24 mm')?.id ?? '';
  for (const [serial, event] of [
    ['S1', 'wasted'],
    ['S2', 'implanted'],
  ] as const) {
    const text = `]d201${number(article)}1727113010LOT1${GS}21${serial}`;
    await session.submit({ type: 'label.scan', text, isAnother: true }, 'scanner');
    const pack = session.view.implants.lastScan ?? '';
    await give({ type: 'pack.move', pack, event: 'opened', reason: 'Shown to the surgeon' });
    await say('+60');
    await give({ type: 'pack.move', pack, event, reason: 'Fell' });
  }
  await give({ type: 'override.request', holdPoint: asId('baseplate'), reason: 'Checked by hand' });
  await say('+5');
  await give({ type: 'override.confirm' });
  const granted = session.entries.findLast(({ type }) => type === 'override.granted');
  await say('+300');
  await give({ type: 'case.close', outcome: 'abandoned', reason: 'End of the test' });
  const text = caseToFhirText(session.entries, session.view.outline) ?? '';
  return { bundle: JSON.parse(text) as object, gtin: number(article), grantedAt: granted?.at ?? 0 };
}

describe('a case as it was recorded', () => {
  test(
    '[REV49] passes the validators, and names what is in the patient by its label',
    { timeout: 60_000 },
    async () => {
      const { bundle, gtin } = await makeBundle();
      for (const [name, validate] of Object.entries(validators))
        expect(validate(bundle), name).toEqual([]);
      expect(findByHand(bundle, 'Patient/replace-with-local-patient')).toEqual([]);
      const of = (type: string) =>
        listResources(bundle).filter((it) => it['resourceType'] === type);
      expect(of('Device')).toMatchObject([
        {
          deviceName: [{ name: 'Post 24 mm' }],
          udiCarrier: [
            { deviceIdentifier: gtin, carrierHRF: `(01)${gtin}(17)271130(10)LOT1(21)S2` },
          ],
          lotNumber: 'LOT1',
          serialNumber: 'S2',
          expirationDate: '2027-11-30',
        },
      ]);
      expect(of('DeviceUseStatement')).toHaveLength(1);
    },
  );

  test('[REV74] a size is in it only as long as its confirmation stands on the wall', async () => {
    const { session, say } = await openSampleCase();
    const upTo = WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('wedge two four'));
    const sizes = () => {
      const text = caseToFhirText(session.entries, session.view.outline) ?? '';
      const all = listResources(JSON.parse(text) as object);
      return {
        wedges: all
          .filter(({ id }) => String(id).endsWith('-size-wedge'))
          .map((it) => [it['status'], (it['valueQuantity'] as { value: number }).value]),
        confirmed: all.filter(({ id }) => String(id).endsWith('-confirmed-wedge')).length,
      };
    };
    const shown = () => {
      const [part] = session.view.sizes.flatMap(({ parts }) => parts.filter(({ capture }) => String(capture) === 'wedge')); // prettier-ignore
      return [part?.state, part?.text];
    };
    await say(...upTo, 'wedge one six', '+3', 'confirm', '+2');
    expect([shown(), sizes()]).toEqual([['settled', '16'], { wedges: [['final', 16]], confirmed: 1 }]); // prettier-ignore
    await say('undo last order', '+2');
    expect([shown(), sizes()]).toEqual([['wanted', ''], { wedges: [], confirmed: 0 }]);
    const digest = digestCase(session.entries, session.view.outline);
    const pins = foldSizes(session.entries).filter(({ capture }) => String(capture) !== 'wedge');
    expect(digest?.readBacks).toEqual({
      offered: pins.length + 1,
      confirmed: pins.length,
      corrected: 1,
      lapsed: 0,
    });
    await say('wedge two four', '+3', 'confirm');
    expect([shown(), sizes()]).toEqual([['settled', '24'], { wedges: [['final', 24]], confirmed: 1 }]); // prettier-ignore
    // A correction that is taken back leaves the size as it was before the correction.
    await session.submit({ type: 'capture.change', capture: asId('wedge') }, 'desk');
    expect([shown()[0], sizes().wedges]).toEqual(['doubtful', []]);
    await say('wedge one six', '+3', 'confirm', '+2', 'undo last order');
    await session.submit({ type: 'capture.keep' }, 'desk');
    expect([shown(), sizes().wedges]).toEqual([['settled', '24'], [['final', 24]]]);
  });

  test(
    '[REV50] an override says when it was confirmed, and which hold point it passed',
    { timeout: 60_000 },
    async () => {
      const { bundle, grantedAt } = await makeBundle();
      const override = listResources(bundle).find((it) =>
        JSON.stringify(it).includes('Checked by hand'),
      );
      expect(override).toMatchObject({
        resourceType: 'Provenance',
        recorded: new Date(grantedAt).toISOString(),
        activity: { text: 'Hold point passed without its conditions: Baseplate' },
      });
    },
  );
});
