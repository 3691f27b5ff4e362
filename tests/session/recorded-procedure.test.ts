/** Old records and later rules: what was once run is read for ever, what can't be compiled says why. */
import { describe, expect, it } from 'vitest';
import { asId } from '../../src/domain';
import type { CaseSetup, Entry, RunId } from '../../src/domain';
import { loadProcedure } from '../../src/procedure';
import { createMemoryStore } from '../../src/record';
import type { RecordStore } from '../../src/record';
import { CaseLog, CaseSession, describeRecorded, listCaptures, outlineOf } from '../../src/session';
import { BASE, breakBase, CASES } from '../procedure/corpus/corpus';
import { HandClock } from '../support/hand-clock';
import { SAMPLE_SETTINGS } from '../support/sample-case';

/** Kinds that concern whether a procedure can be written out and built; all others judge its meaning. */
const OF_STRUCTURE = ['shape', 'too-large', 'item-not-an-id', 'id-twice'];
/** The one unknown name that the machine itself needs. */
const LEADS_NOWHERE = 'a loop back to nowhere';
const OF_MEANING = CASES.filter(
  ({ name, finds }) =>
    name !== LEADS_NOWHERE && finds.every(([kind]) => !OF_STRUCTURE.includes(kind)),
);

const caseId = asId<Entry['caseId']>('case-old');
const setupWith = (procedure: unknown): CaseSetup => ({
  procedureId: asId('corpus'),
  procedure,
  mode: 'demo',
  side: 'left',
  roles: [],
  plan: {},
});

/** A case as this program records it, with the good procedure, a step on. */
async function recordCase(store: RecordStore): Promise<readonly Entry[]> {
  const clock = new HandClock();
  const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-1') };
  const opened = await CaseSession.open(ports, SAMPLE_SETTINGS, caseId, setupWith(BASE));
  if (!opened.ok) throw new Error(opened.error.code);
  const [track] = opened.value.view.tracks;
  if (!track) throw new Error('The corpus has no track');
  await opened.value.submit({ type: 'step.finish', track: track.id }, 'desk');
  return opened.value.entries;
}

/** The same record as an earlier program, without a rule of today, would have written it. */
async function storeWith(procedure: unknown): Promise<RecordStore> {
  const entries = await recordCase(createMemoryStore());
  const store = createMemoryStore();
  const old = entries.map((entry) =>
    entry.type === 'case.opened' ? { ...entry, data: setupWith(procedure) } : entry,
  );
  const written = await store.append(caseId, old);
  if (!written.ok) throw new Error(written.error.code);
  return store;
}

async function resumeWith(procedure: unknown) {
  const store = await storeWith(procedure);
  const clock = new HandClock();
  const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-2') };
  return CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
}

const collides = CASES.find(({ name }) => name === 'a tally said like a step');
if (!collides) throw new Error('The corpus lacks the case of two phrases that collide');

describe('the procedure of a record', () => {
  it('[SES23] is taken up though two of its phrases collide by a rule of today', async () => {
    const data = breakBase(collides);
    expect(loadProcedure(data)).toMatchObject({ error: { code: 'procedure-invalid' } });
    const [good, old] = [await resumeWith(BASE), await resumeWith(data)];
    if (!good.ok || !old.ok) throw new Error('A case does not open');
    expect(old.value.entries.at(-1)?.type).toBe('run.resumed');
    expect(old.value.view.tracks).toEqual(good.value.view.tracks);
    expect(outlineOf(data)).toEqual(outlineOf(BASE));
    const written = (from: unknown) =>
      listCaptures(from).map(({ toText, ...line }) => ({ ...line, text: toText(24) }));
    expect(written(data)).toEqual(written(BASE));
    expect(describeRecorded(data).ok).toBe(true);
  });

  it('[SES23] does not open a new case with it', async () => {
    const clock = new HandClock();
    const ports = { store: createMemoryStore(), clock, scheduler: clock, run: asId<RunId>('r') };
    const setup = setupWith(breakBase(collides));
    expect(await CaseSession.open(ports, SAMPLE_SETTINGS, caseId, setup)).toMatchObject({
      ok: false,
      error: { code: 'procedure-invalid' },
    });
  });

  it.each(OF_MEANING)('[SES23] is read with $name', async (broken) => {
    const [first] = await recordCase(createMemoryStore());
    if (first?.type !== 'case.opened') throw new Error('The case has no opening entry');
    const data = breakBase(broken) as { readonly tracks: readonly unknown[] };
    const log = CaseLog.rebuild([{ ...first, data: setupWith(data) }], SAMPLE_SETTINGS);
    if (!log.ok) throw new Error(JSON.stringify(log.error));
    const { tracks } = log.value.view(0, null);
    expect(tracks).toHaveLength(data.tracks.length);
    expect(tracks.filter(({ current }) => current === null)).toEqual([]);
    expect(log.value.vocabulary().phrases.length).toBeGreaterThan(0);
  });

  it.each([
    ['a key that the format does not have', 'At colour:'],
    ['two steps of one name', '"measure" twice'],
    [LEADS_NOWHERE, 'At steps.try-plate.loop.backTo:'],
    ['an item with a quotation mark', 'At repeats.'],
    ['a range of ten thousand values', 'At captures.depth.values:'],
  ])('[SES23] gives its fault where it can’t be compiled: %s', async (name, finding) => {
    const broken = CASES.find((one) => one.name === name);
    if (!broken) throw new Error(`The corpus lacks "${name}"`);
    const resumed = await resumeWith(breakBase(broken));
    expect(resumed.ok ? null : resumed.error).toMatchObject({ code: 'procedure-invalid' });
    expect(resumed.ok ? '' : resumed.error.params['finding']).toContain(finding);
  });
});
