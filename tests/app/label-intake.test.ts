/** What the intake of labels keeps on this machine, where the disk does not answer. */
import { expect, it } from 'vitest';
import { LabelIntake } from '../../src/app/labels/label-intake';
import { err, fault, ok } from '../../src/domain';

it('[LAB28] scanner settings and learnt numbers that could not be read are told and not overwritten', async () => {
  const wedge = { prefix: '#', suffix: '', separator: '^' };
  const learnt = { '09506000134352': 'sphere-40' };
  const kept = new Map<string, unknown>([['scanner', wedge], ['label-numbers', learnt]]); // prettier-ignore
  const disk = { isReadable: false };
  const intake = new LabelIntake(
    { current: { submit: () => Promise.resolve({ refusal: null }) } } as never,
    {
      read: (name) =>
        Promise.resolve(
          disk.isReadable ? ok(kept.get(name)) : err(fault('record-unavailable', { detail: '' })),
        ),
      write: (name, value) => {
        kept.set(name, value);
        return Promise.resolve(ok(undefined));
      },
    },
  );
  expect((await intake.load()).map(({ code, params }) => [code, params['what']])).toEqual([
    ['settings-not-read', 'scanner settings'],
    ['settings-not-read', 'learnt label numbers'],
  ]);
  expect((await intake.learn('09506000134369', 'sphere-42'))?.code).toBe('settings-not-read');
  expect((await intake.setWedge({ ...wedge, prefix: '' }))?.code).toBe('settings-not-read');
  expect([kept.get('scanner'), kept.get('label-numbers')]).toEqual([wedge, learnt]);
  disk.isReadable = true;
  expect(await intake.learn('09506000134376', 'sphere-44')).toBeNull();
  expect(kept.get('label-numbers')).toEqual({
    ...learnt,
    '09506000134369': 'sphere-42',
    '09506000134376': 'sphere-44',
  });
});
