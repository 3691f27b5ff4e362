/**
 * A hold point that asks whether packs and sizes agree, in a running case. That what is
 * implanted is checked against what was chosen before a wound is closed is common practice.
 * Numbers of packs are Example S's, invented.
 */
import { describe, expect, it } from 'vitest';
import { asId } from '../../src/domain';
import type { CaptureId, CaseId, RoomOrder, RunId } from '../../src/domain';
import { CaseSession, packOrders } from '../../src/session';
import { catalogueFor } from '../../src/sizing';
import { Room } from '../procedure/features/room';
import { openSampleCase, SAMPLE_SETTINGS } from '../support/sample-case';
import { walkTo } from '../support/walk-case';

const IN_DATE = '2029-01-01';
const LONG = { timeout: 60_000 };

/** The flagship at its count before closure, all sizes settled and no pack scanned. */
async function atClosure() {
  const sample = await openSampleCase({ procedure: 'reverse-shoulder' });
  await walkTo(sample, 'count-closure');
  const { session } = sample;
  const catalogue = catalogueFor('reverse-shoulder');
  if (!catalogue) throw new Error('The flagship has no catalogue');
  const give = async (order: RoomOrder) => (await session.submit(order, 'desk')).refusal;
  const finishCount = async () => {
    const count = session.view.counts.find(({ isNow }) => isNow);
    for (const { item, expected } of count?.items ?? [])
      await give({ type: 'count.record', count: count?.count ?? asId(''), item, value: expected });
    return give({ type: 'step.finish', track: asId('field') });
  };
  const fetchAll = async (events: readonly ('opened' | 'implanted')[]) => {
    for (let turn = 0; session.view.implants.notScanned.length > 0 && turn < 20; turn += 1) {
      const { articles, notScanned } = session.view.implants;
      const article = articles.find(({ title }) => title === notScanned[0])?.id ?? '';
      for (const order of packOrders(catalogue, { article, serial: `P${turn}`, expiresOn: IN_DATE }, events)) await give(order); // prettier-ignore
    }
  };
  const at = () => session.view.tracks[0];
  return { ...sample, give, finishCount, fetchAll, at };
}

describe('packs and sizes that must agree', () => {
  it('[IMP23] hold closure back while a confirmed size has no pack, and say so', LONG, async () => {
    const { finishCount, fetchAll, at, session, give } = await atClosure();
    expect(session.view.implants.notScanned.length).toBeGreaterThan(0);
    await finishCount();
    expect(at()?.current?.step).toBe('close-deep');
    expect(at()?.state).toBe('waiting');
    const begun = await give({ type: 'step.begin', step: asId('close-deep') });
    expect(begun?.code).toBe('hold-point-closed');
    const refusal = session.view.refusals.at(-1);
    expect(refusal?.conditions.filter(({ isMet }) => !isMet).map(({ text }) => text)).toEqual([
      'Packs and sizes do not agree',
    ]);
    // Opened is not enough: somebody says what became of each pack.
    await fetchAll(['opened']);
    expect(at()?.state).toBe('waiting');
    for (const { id } of session.view.implants.packs)
      await give({ type: 'pack.move', pack: id, event: 'implanted', reason: '' });
    expect(at()).toMatchObject({ state: 'doing', current: { step: 'close-deep' } });
  });

  it(
    '[IMP23] go on once begun: a pack that is written off later opens no wound',
    LONG,
    async () => {
      const { finishCount, fetchAll, at, session, give } = await atClosure();
      await fetchAll(['opened', 'implanted']);
      await finishCount();
      expect(at()).toMatchObject({ state: 'doing', current: { step: 'close-deep' } });
      const [pack] = session.view.implants.packs;
      await give({ type: 'pack.move', pack: pack?.id ?? '', event: 'wasted', reason: 'dropped' });
      expect(session.view.implants.notScanned).toHaveLength(1);
      expect(at()).toMatchObject({ state: 'doing', current: { step: 'close-deep' } });
    },
  );

  it('[IMP23] are compared anew when a settled size changes', LONG, async () => {
    const { fetchAll, session, give, finishCount, at } = await atClosure();
    await fetchAll(['opened', 'implanted']);
    expect(session.entries.findLast(({ type }) => type === 'packs.compared')?.data).toEqual({ agree: true }); // prettier-ignore
    await give({ type: 'capture.change', capture: asId('sphere') });
    await give({ type: 'capture.offer', capture: asId('sphere'), value: 36 });
    await give({ type: 'capture.confirm' });
    expect(session.view.implants.notScanned).toContain('Glenosphere 36 mm');
    await finishCount();
    expect(at()?.state === 'doing' && at()?.current?.step === 'close-deep').toBe(false);
  });

  it('[IMP23] are passed at the desk with a reason and a second confirmation', LONG, async () => {
    const { finishCount, at, give } = await atClosure();
    await finishCount();
    const reason = 'Label torn, checked by two people';
    expect(await give({ type: 'override.request', holdPoint: asId('deep-closure'), reason })).toBeNull(); // prettier-ignore
    expect(at()?.state).toBe('waiting');
    await give({ type: 'override.confirm' });
    expect(at()).toMatchObject({ state: 'doing', current: { step: 'close-deep' } });
  });

  it('[IMP23] never agree without a catalogue to compare by', LONG, async () => {
    const room = await Room.open('reverse-shoulder', (file) => {
      (file as { id: string }).id = 'a-teams-own';
    });
    expect(room.view.implants.catalogue).toBeNull();
    expect(room.entries.some(({ type }) => type === 'packs.compared')).toBe(false);
  });

  it('[IMP23] are known again after a restart', LONG, async () => {
    const { fetchAll, session, clock, store } = await atClosure();
    await fetchAll(['opened', 'implanted']);
    const before = session.entries.length;
    session.close();
    const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-2') };
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, asId<CaseId>('case-sample'));
    if (!resumed.ok) throw new Error(resumed.error.code);
    expect(resumed.value.entries.slice(before).map(({ type }) => type)).toEqual(['run.resumed']);
  });
});

describe('one size', () => {
  it('[IMP24] is answered aloud and shown on the wall, until something else happens', async () => {
    const { session, say } = await openSampleCase();
    const said: string[] = [];
    session.subscribe(({ announcements }) =>
      said.push(...announcements.map(({ segments }) => segments.join(' '))),
    );
    const asked = () => session.view.sizes.find(({ isAsked }) => isAsked)?.label;
    const sayable = () => session.vocabulary.phrases.map(({ words }) => words);
    expect(sayable()).not.toContain('read the wedge');
    await say('+240', 'step done', '+120', 'step done', 'pin placed', 'confirm', 'wedge one six', 'confirm'); // prettier-ignore
    said.length = 0;
    await say('read the wedge');
    expect(said).toEqual(['Wedge one six']);
    expect(asked()).toBe('Wedge');
    await say('what is next');
    expect(asked()).toBeUndefined();
  });

  it('[IMP24] is refused by name where the procedure has none such', async () => {
    const { session } = await openSampleCase();
    const order = {
      type: 'question.ask',
      question: 'size',
      capture: asId<CaptureId>('nobody'),
    } as const;
    expect((await session.submit(order, 'desk')).refusal?.code).toBe('unknown-name');
  });
});
