/** What the desk shows when, from states of the flagship. */
import { describe, expect, test } from 'vitest';
import { freshRefusal, listNow } from '../../src/ui/desk/now';
import { listNamedTimes } from '../../src/ui/desk/named-times';
import { describeLine, layOutStations } from '../../src/ui/desk/track-line';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';
import type { SampleCase } from '../support/sample-case';

async function caseAt(phrase: string): Promise<SampleCase> {
  const sample = await openSampleCase();
  await sample.say(...WHOLE_CASE.slice(0, WHOLE_CASE.indexOf(phrase)));
  return sample;
}

describe('needed now', () => {
  test('[DSK11] an open read-back leads, and nothing else asks for a value meanwhile', async () => {
    const sample = await caseAt('depth two four');
    await sample.say('depth two four');
    expect(listNow(sample.session.view)).toEqual(['read-back']);
  });

  test('[DSK11] then a second confirmation, a held clock, a refusal, what is wanted', async () => {
    const sample = await caseAt('insert baseplate');
    expect(listNow(sample.session.view)).toEqual(['wanted']);
    await sample.say('insert baseplate');
    expect(listNow(sample.session.view)).toEqual(['refused', 'wanted']);
    const point = sample.session.view.holdPoints.find(({ title }) => title === 'Baseplate');
    if (!point) throw new Error('The flagship holds the baseplate');
    await sample.session.submit(
      { type: 'override.request', holdPoint: point.id, reason: 'x' },
      'desk',
    );
    expect(listNow(sample.session.view)).toEqual(['override', 'wanted']);
  });

  test('[DSK11] a case that is done asks to be closed, a closed one to be looked back on', async () => {
    const sample = await openSampleCase();
    expect(listNow(sample.session.view)).toEqual(['steps']);
    await sample.say(...WHOLE_CASE);
    expect(listNow(sample.session.view)).toEqual(['complete']);
    await sample.session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
    expect(listNow(sample.session.view)).toEqual(['closed']);
  });

  test('[DSK12] a refusal stays in sight until something else happens', async () => {
    const sample = await caseAt('depth two four');
    await sample.session.submit({ type: 'capture.confirm' }, 'desk');
    expect(freshRefusal(sample.session.view)?.code).toBe('no-read-back');
    await sample.say('mute voice');
    expect(freshRefusal(sample.session.view)).toBeNull();
  });
});

describe('the line', () => {
  test('[DSK13] has a station a step and a bar where a hold point is closed', async () => {
    const sample = await caseAt('depth two four');
    const [field] = sample.session.view.tracks;
    if (!field) throw new Error('The flagship has a field track');
    const stations = layOutStations(field, 400);
    expect(stations).toHaveLength(field.steps.length);
    expect(stations.filter(({ isBarred }) => isBarred)).toHaveLength(3);
    expect(stations.every(({ x }) => x >= 9 && x <= 391)).toBe(true);
    expect(describeLine(field)).toMatch(/^8 of \d+ steps passed$/);
  });
});

describe('named times', () => {
  test('[DSK14] each shows its newest mark and how often it was marked', async () => {
    const sample = await openSampleCase();
    await sample.session.submit({ type: 'milestone.mark', milestone: 'PST' }, 'desk');
    await sample.say('+60');
    await sample.session.submit({ type: 'milestone.mark', milestone: 'PST' }, 'desk');
    const times = listNamedTimes(sample.session.view);
    expect(times).toHaveLength(9);
    expect(times.find(({ code }) => code === 'PST')).toMatchObject({
      times: 2,
      at: { mono: 60_000 },
    });
    expect(times.find(({ code }) => code === 'PIR')).toMatchObject({ times: 0, at: null });
  });
});
