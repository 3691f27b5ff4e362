/** Files in and out: the shelf, the questions about a file, and a dry run beside a case. */
import { describe, expect, test } from 'vitest';
import { createShelf } from '../../src/app/procedures/procedure-shelf';
import type { KeptFiles } from '../../src/app/keeping/kept-files';
import { asId } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import { CaseSession, findFaults, giveNewId, procedureToText } from '../../src/session';
import type { CheckNews, ProcedureShelf } from '../../src/ui';
import { findingToLine } from '../../src/ui/procedures/finding-lines';
import { holdsOf, listMoved, placesOf } from '../../src/ui/procedures/dry-run';
import { ImportModel } from '../../src/ui/procedures/import-model.svelte';
import { SHORT_PROCEDURE } from '../browser/desk-procedure';
import { HandClock } from '../support/hand-clock';

const TEXT = JSON.stringify(SHORT_PROCEDURE, null, 1);

function memoryShelf(contents: Record<string, unknown> = {}): Pick<
  KeptFiles,
  'entries' | 'set' | 'del'
> & {
  readonly kept: Map<string, unknown>;
} {
  const kept = new Map(Object.entries(contents));
  return {
    kept,
    entries: () => Promise.resolve([...kept]),
    set: (id, value) => Promise.resolve(void kept.set(id, value)),
    del: (id) => Promise.resolve(void kept.delete(id)),
  };
}

describe('the shelf', () => {
  test('[PRC1] keeps a file as it came and lists it after the built-in ones', async () => {
    const store = memoryShelf();
    const shelf = createShelf(store, () => 5);
    expect(await shelf.keep(TEXT)).toEqual({ ok: true, value: 'short-test' });
    const other = createShelf(store, () => 9);
    await other.reload();
    expect(other.list().at(-1)).toMatchObject({ id: 'short-test', isBuiltIn: false, addedAt: 5 });
    expect(other.read('short-test')).toMatchObject({ ok: true, value: { text: TEXT } });
    expect(await other.remove('short-test')).toBeNull();
    expect(store.kept.size).toBe(0);
  });

  test.each([
    ['no JSON', { text: '{ oops', addedAt: 1 }],
    ['another shape', { text: '{}', addedAt: 1 }],
    ['no text', 7],
    ['nothing', null],
  ])('[PRC1] %s in the store is a line with a fault, and the rest still works', async (_, bad) => {
    const shelf = createShelf(
      memoryShelf({ bad, 'short-test': { text: TEXT, addedAt: 1 } }),
      () => 1,
    );
    await shelf.reload();
    const lines = shelf.list().filter(({ isBuiltIn }) => !isBuiltIn);
    expect(lines.map(({ id, fault }) => [id, fault?.code ?? null]).sort()).toEqual([
      ['bad', 'procedure-invalid'],
      ['short-test', null],
    ]);
  });

  test('[PRC2] a built-in one is not replaced', async () => {
    const shelf = createShelf(memoryShelf(), () => 1);
    const text = procedureToText({ ...SHORT_PROCEDURE, id: 'reverse-shoulder-glenoid' });
    expect(await shelf.keep(text)).toMatchObject({
      ok: false,
      error: { code: 'procedure-built-in' },
    });
  });

  test('[PRC2] a shelf that can’t be written says so, and the file can be used until the end', async () => {
    const store = { ...memoryShelf(), set: () => Promise.reject(new Error('full')) };
    const shelf = createShelf(store, () => 1);
    expect(await shelf.keep(TEXT)).toMatchObject({ error: { code: 'procedures-not-kept' } });
    expect(shelf.fault()?.code).toBe('procedures-not-kept');
    expect(shelf.describe('short-test').ok).toBe(true);
  });

  test('[PRC1] a file that went out comes in and goes out the same', async () => {
    const shelf = createShelf(memoryShelf(), () => 1);
    const text = procedureToText({ ...SHORT_PROCEDURE, id: 'of-ours' });
    await shelf.keep(text);
    const again = shelf.read('of-ours');
    expect(again.ok && again.value.text).toBe(text);
    expect(again.ok && procedureToText(again.value.data)).toBe(text);
  });
});

/** A shelf whose check is moved by hand. */
function shelfWithCheck(): { model: ImportModel; news: (news: CheckNews) => void; core: ReturnType<typeof createShelf>; stops: () => number } {
  const core = createShelf(memoryShelf(), () => 1);
  let told: (news: CheckNews) => void = () => undefined;
  let stopped = 0;
  const shelf = {
    ...core,
    check: (_: unknown, tell: typeof told) => {
      told = tell;
      return () => {
        stopped += 1;
      };
    },
  } as ProcedureShelf;
  return { model: new ImportModel(shelf), news: (news) => { told(news); }, core, stops: () => stopped };
} // prettier-ignore

const fileOf = (text: string) => ({
  name: 'ours.json',
  size: text.length,
  text: () => Promise.resolve(text),
});
const CLEAN: CheckNews = { kind: 'remarks', remarks: [], hasSounds: true };

describe('a file on its way in', () => {
  test('[PRC3] text that is not JSON is refused with its line', async () => {
    const { model } = shelfWithCheck();
    await model.take(fileOf('{\n oops'));
    expect(model.stage).toMatchObject({
      kind: 'refused',
      lines: [
        { isFatal: true, where: '(file)', why: 'Expected JSON, found text that breaks at line 2.' },
      ],
    });
  });

  test('[PRC3] a fault of form refuses the file and says where, why and what to do', async () => {
    const broken = { ...SHORT_PROCEDURE, title: 7 };
    const [finding] = findFaults(broken);
    expect(finding && findingToLine(finding)).toMatchObject({
      isFatal: true,
      where: 'title',
      path: 'title',
      why: 'Expected text, found 7.',
    });
    expect(finding?.advice).not.toBe('');
    const { model, news, core } = shelfWithCheck();
    await model.take(fileOf(JSON.stringify(broken)));
    news({ kind: 'faults', faults: findFaults(broken) });
    expect(model.stage.kind).toBe('refused');
    await model.keep();
    expect(core.list().every(({ isBuiltIn }) => isBuiltIn)).toBe(true);
  });

  test('[PRC3] a fatal remark refuses it, another one waits for a word', async () => {
    const remark = {
      kind: 'sounds-alike',
      path: 'tracks.0',
      expected: 'other words',
      received: '“a” beside “b”',
      advice: 'Change it.',
    };
    const { model, news, core } = shelfWithCheck();
    await model.take(fileOf(TEXT));
    news({ kind: 'remarks', remarks: [{ ...remark, isFatal: true } as never], hasSounds: true });
    expect(model.stage.kind).toBe('refused');
    await model.take(fileOf(TEXT));
    news({ kind: 'remarks', remarks: [{ ...remark, isFatal: false } as never], hasSounds: true });
    expect(model.stage).toMatchObject({ kind: 'ready', lines: [{ isFatal: false }] });
    expect(core.list().every(({ isBuiltIn }) => isBuiltIn)).toBe(true);
    await model.keep();
    expect(model.stage).toMatchObject({ kind: 'kept', id: 'short-test' });
  });

  test('[PRC3] a walk that nobody waits for is stopped and said', async () => {
    const { model, news, stops } = shelfWithCheck();
    await model.take(fileOf(TEXT));
    news({ kind: 'faults', faults: [] });
    const before = stops();
    model.stopWalking();
    expect(stops()).toBe(before + 1);
    expect(model.stage).toMatchObject({
      kind: 'ready',
      lines: [{ where: 'the whole procedure', isFatal: false }],
    });
  });

  test('[PRC4] the same id is asked about: both, or in its place', async () => {
    const { model, news, core } = shelfWithCheck();
    await core.keep(TEXT);
    const changed = JSON.stringify({ ...SHORT_PROCEDURE, title: 'Another short one' });
    await model.take(fileOf(changed));
    news(CLEAN);
    expect(model.stage).toMatchObject({
      clash: { title: 'Short test procedure', isBuiltIn: false },
    });
    await model.keepBoth();
    const titles = () =>
      core.list().flatMap(({ id, title, isBuiltIn }) => (isBuiltIn ? [] : [`${id}: ${title}`]));
    expect(titles()).toEqual(['short-test-2: Another short one (2)', 'short-test: Short test procedure']); // prettier-ignore
    await model.take(fileOf(changed));
    news(CLEAN);
    await model.keep();
    expect(titles()).toEqual(['short-test: Another short one', 'short-test-2: Another short one (2)']); // prettier-ignore
  });

  test('[PRC4] a new id fits the format, however long the old one is', () => {
    const long = { ...SHORT_PROCEDURE, id: 'a'.repeat(48), title: 'b'.repeat(60) };
    const fresh = giveNewId(long, [long.id, `${'a'.repeat(46)}-2`]);
    expect(fresh['id']).toBe(`${'a'.repeat(46)}-3`);
    expect(findFaults(fresh)).toEqual([]);
  });
});

test('[PRC10] the drawing follows a dry run, and no other store hears of it', async () => {
  const clock = new HandClock();
  const record = createMemoryStore();
  const opened = await CaseSession.open(
    { store: createMemoryStore(), clock, scheduler: clock, run: asId('run-1') },
    { addressPhrase: 'theatre wall', lapseMs: 600_000 },
    asId('dry-run'),
    { procedureId: asId('short-test'), procedure: SHORT_PROCEDURE, mode: 'rehearsal', side: 'right', roles: [], plan: {} },
  ); // prettier-ignore
  if (!opened.ok) throw new Error(opened.error.code);
  const before = placesOf(opened.value.view);
  expect(before.get(asId('expose'))).toBe('doing');
  await opened.value.submit({ type: 'step.finish', track: asId('field') }, 'desk');
  const after = placesOf(opened.value.view);
  expect(after.get(asId('expose'))).toBe('done');
  expect(listMoved(before, after)).toEqual(['measure']);
  expect(holdsOf(opened.value.view).get(asId('baseplate'))?.state).toBe('closed');
  expect(await record.listCases()).toEqual({ ok: true, value: [] });
});
