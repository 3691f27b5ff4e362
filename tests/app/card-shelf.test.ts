import { describe, expect, it } from 'vitest';
import { createCardServices } from '../../src/app/voice/card-services';
import type { CardParts } from '../../src/app/voice/card-services';
import { CardShelf } from '../../src/app/voice/card-shelf';
import type { KeptFiles } from '../../src/app/keeping/kept-files';
import { describeBuiltIn } from '../../src/session';
import { cardToText } from '../../src/voice';
import { makeCard } from '../support/sample-card';

/** A memory that clones what it keeps, as a database does. */
function memoryFiles(isBroken = false): KeptFiles {
  const kept = new Map<string, unknown>();
  const work = async <T>(what: () => T): Promise<T> => {
    if (isBroken) throw new DOMException('no room', 'QuotaExceededError');
    return what();
  };
  return {
    entries: () => work(() => [...kept]),
    get: (id) => work(() => structuredClone(kept.get(id))),
    set: (id, value) => work(() => void kept.set(id, structuredClone(value))),
    del: (id) => work(() => void kept.delete(id)),
  };
}

const setUp = (used: readonly string[] = []) => {
  const files = memoryFiles();
  return { files, shelf: new CardShelf(files, (id) => used.includes(id)) };
};

describe('the shelf of voice cards', () => {
  it('[CARD6] keeps a card with its sound, and lists it by its role name', async () => {
    const { shelf } = setUp();
    expect((await shelf.keep(makeCard())).ok).toBe(true);
    expect((await shelf.keep(makeCard({ id: 'card-abcdefgh', label: 'nurse B' }))).ok).toBe(true);
    const listed = await shelf.list();
    expect(listed.ok && listed.value.map(({ label, version }) => [label, version])).toEqual([
      ['nurse B', 3],
      ['surgeon A', 3],
    ]);
    expect(await shelf.read('card-0123456789')).toEqual({ ok: true, value: makeCard() });
  });

  it('[CARD6] lists a damaged card with its fault; it can be deleted', async () => {
    const { shelf, files } = setUp();
    await files.set('card-broken00', { format: 1, takes: 'none' });
    await shelf.keep(makeCard());
    const listed = await shelf.list();
    expect(listed.ok && listed.value.map(({ fault }) => fault?.code ?? null)).toEqual([
      'voice-card-unreadable',
      null,
    ]);
    expect(await shelf.remove('card-broken00')).toBeNull();
    expect((await shelf.read('card-broken00')).ok).toBe(false);
  });

  it('[CARD6] says so where this browser can not keep them', async () => {
    const shelf = new CardShelf(memoryFiles(true), () => false);
    expect(await shelf.keep(makeCard())).toMatchObject({ error: { code: 'voice-cards-not-kept' } });
    const listed = await shelf.list();
    expect(!listed.ok && listed.error.code).toBe('voice-cards-not-kept');
  });

  it('[LANG7] neither takes in nor hands out a card of a language that this version can not hear', async () => {
    const { shelf, files } = setUp();
    const german = makeCard({ language: 'de-DE', version: 1 });
    const why = { code: 'voice-card-language', params: { name: 'surgeon A', language: 'German' } };
    expect(await shelf.bring(await cardToText(german))).toMatchObject({ error: why });
    expect(await shelf.keep(german)).toMatchObject({ error: why });
    expect(await files.entries()).toEqual([]);
    // As a version that has the language left it here.
    await files.set(german.id, german);
    expect(await shelf.read(german.id)).toMatchObject({ error: why });
    expect(await shelf.list()).toMatchObject({ value: [{ label: 'surgeon A', fault: why }] });
    // It is of use to that version still: a file does not take its place.
    expect(await shelf.bring(await cardToText(makeCard()))).toMatchObject({ error: why });
    expect(await files.get(german.id)).toEqual(german);
  });

  it('[CARD7] takes a file in, unless the same or a later version is here', async () => {
    const { shelf } = setUp();
    const [older, newer] = [
      await cardToText(makeCard()),
      await cardToText(makeCard({ version: 4 })),
    ];
    expect(await shelf.bring(older)).toMatchObject({ ok: true, value: { label: 'surgeon A' } });
    expect(await shelf.bring(older)).toMatchObject({ error: { code: 'voice-card-exists' } });
    expect(await shelf.bring(newer)).toMatchObject({ ok: true, value: { version: 4 } });
    expect(await shelf.bring(older)).toMatchObject({ error: { code: 'voice-card-exists' } });
    expect(await shelf.bring(newer.slice(9))).toMatchObject({
      error: { code: 'voice-card-unreadable' },
    });
    expect(await shelf.read('card-0123456789')).toMatchObject({ value: { version: 4 } });
  });

  it('[CARD8] neither changes nor deletes a card that the open case was set up with', async () => {
    const { shelf, files } = setUp(['card-0123456789']);
    await files.set('card-0123456789', makeCard());
    const inUse = { code: 'voice-card-in-use', params: { name: 'surgeon A' } };
    expect(await shelf.keep(makeCard({ version: 4 }))).toMatchObject({ error: inUse });
    expect(await shelf.remove('card-0123456789')).toMatchObject(inUse);
    expect(await shelf.bring(await cardToText(makeCard({ version: 9 })))).toMatchObject({
      error: { code: 'voice-card-in-use' },
    });
    expect(await shelf.read('card-0123456789')).toEqual({ ok: true, value: makeCard() });
  });

  it('[CARD9] gives a case the recordings of the very version that was picked, or says why not', async () => {
    const { shelf } = setUp();
    await shelf.keep(makeCard());
    const pick = { role: 'surgeon', card: 'card-0123456789', label: 'surgeon A', version: 3, language: 'en-GB' }; // prettier-ignore
    const { label, takes } = makeCard();
    expect(await shelf.load([pick])).toEqual({ cards: [{ label, takes }], faults: [] });
    const { cards, faults } = await shelf.load([
      { ...pick, version: 2 },
      { ...pick, card: 'card-elsewhere', label: 'nurse B' },
    ]);
    expect(cards).toEqual([]);
    expect(faults.map(({ code, params }) => [code, params['name']])).toEqual([
      ['voice-card-missing', 'surgeon A'],
      ['voice-card-missing', 'nurse B'],
    ]);
  });
});

describe('a card and how the wall is set', () => {
  const servicesWith = (addressPhrase: string, talkKey: string | null, isLocked = false) =>
    createCardServices({
      ...({} as CardParts),
      shelf: setUp().shelf,
      settings: { current: { volume: 'normal', addressPhrase, talkKey } } as never,
      isLocked: () => Promise.resolve(isLocked),
    });
  const line = (language: string, addressPhrase: string) =>
    ({ language, addressPhrase, fault: null }) as never;

  it('[CARD10] fits where one says the same first, in another language its own phrase, behind a pedal nothing', () => {
    const usual = servicesWith('theatre wall', null);
    expect(usual.whyUnfit(line('en-GB', 'theatre wall'))).toBeNull();
    expect(usual.whyUnfit(line('en-GB', 'hello wall'))).toContain('hello wall');
    expect(usual.whyUnfit(line('fr-FR', 'mur du bloc'))).toBeNull();
    const pedal = servicesWith('theatre wall', 'F8');
    expect(pedal.whyUnfit(line('en-GB', 'theatre wall'))).not.toBeNull();
    expect(pedal.whyUnfit(line('en-GB', ''))).toBeNull();
    expect(usual.whyUnfit(line('en-GB', ''))).not.toBeNull();
    expect(usual.whyUnfit(line('de-DE', 'theatre wall'))).not.toBeNull();
    // A running case keeps what it was opened with, however the wall is set meanwhile.
    expect(pedal.whyUnfit(line('en-GB', 'theatre wall'), 'theatre wall')).toBeNull();
    expect(usual.whyUnfit(line('en-GB', 'theatre wall'), '')).not.toBeNull();
  });

  it('[CARD14] is read in its language, with what one says first there', () => {
    const services = createCardServices({
      ...({} as CardParts),
      settings: {
        current: { volume: 'normal', addressPhrase: 'theatre wall', talkKey: null },
      } as never,
      procedures: { describe: describeBuiltIn },
    });
    const french = services.plan('reverse-shoulder-glenoid', 'fr-FR');
    if (!french.ok) throw new Error(french.error.code);
    expect(french.value.texts.slice(0, 1)).toEqual(['mur du bloc étape terminée']);
    expect(french.value.texts).toContain('deux');
    const english = services.plan('reverse-shoulder-glenoid', 'en-GB');
    expect(english.ok && english.value.texts.length).toBe(french.value.texts.length);
    expect(english.ok && english.value.texts).toContain('theatre wall depth');
    expect(services.plan('unknown', 'en-GB').ok).toBe(false);
  });

  it('[CARD6] hands no card out as a file while the record is locked', async () => {
    expect((await servicesWith('theatre wall', null, true).save('card-0'))?.code).toBe(
      'record-locked',
    );
  });
});
