/** The theatre's name at set-up: taken over from the latest case, never over what was typed. */
import { expect, it } from 'vitest';
import { fault } from '../../src/domain';
import type { AppServices } from '../../src/ui';
import { SetupModel } from '../../src/ui/start/setup-model.svelte';

type Line = { readonly caseId: string; readonly mode: string };

/** Services of a machine with these cases, the latest first; asked for anything else they are missing. */
function machineWith(lines: readonly Line[], theatreOf: Readonly<Record<string, string>>) {
  const asked: string[] = [];
  const services = {
    procedures: [],
    listCases: () => Promise.resolve({ ok: true, value: lines }),
    readCase: (caseId: string) => {
      asked.push(caseId);
      const theatre = theatreOf[caseId];
      return Promise.resolve(
        theatre === undefined
          ? { ok: false, error: fault('record-locked') }
          : { ok: true, value: { setup: { theatre } } },
      );
    },
  } as unknown as AppServices;
  return { services, asked };
}

const settle = () => new Promise((resolve) => setImmediate(resolve));

it('[REV95] the set-up takes the theatre over from the latest case that is no rehearsal', async () => {
  const lines = [{ caseId: 'c', mode: 'rehearsal' }, { caseId: 'b', mode: 'real' }, { caseId: 'a', mode: 'real' }]; // prettier-ignore
  const { services, asked } = machineWith(lines, { a: 'Theatre 1', b: 'Theatre 2', c: 'Theatre 3' }); // prettier-ignore
  const model = new SetupModel(services);
  await settle();
  expect(model.theatre).toBe('Theatre 2');
  expect(asked).toEqual(['b']);
});

it('[REV95] what was typed meanwhile stays, and a case that can’t be read leaves the field empty', async () => {
  const lines = [{ caseId: 'a', mode: 'real' }];
  const typed = new SetupModel(machineWith(lines, { a: 'Theatre 1' }).services);
  typed.theatre = 'Theatre 9';
  await settle();
  expect(typed.theatre).toBe('Theatre 9');
  const locked = new SetupModel(machineWith(lines, {}).services);
  await settle();
  expect(locked.theatre).toBe('');
});
