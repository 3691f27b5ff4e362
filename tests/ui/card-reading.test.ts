/** Reading for a voice card, driven by recordings that are made up: no microphone, no clock. */
import { describe, expect, it } from 'vitest';
import { fault } from '../../src/domain';
import type { Fault, Result, TakeFlaw } from '../../src/domain';
import type { ApartLine, CardLine, PhraseTake, TakeWatcher } from '../../src/ui/card-services';
import { CardReading } from '../../src/ui/cards/card-reading.svelte';
import { listBadPairs, listTextsToRepeat } from '../../src/ui/cards/card-words';
import { CardsModel } from '../../src/ui/cards/cards-model.svelte';

function setUp(texts: readonly string[]) {
  const done: (readonly PhraseTake[])[] = [];
  let [textNow, watcher]: [() => string, TakeWatcher | null] = [() => '', null];
  let closed = 0;
  const reading = new CardReading(
    {
      record: (text, given) => {
        [textNow, watcher] = [text, given];
        return Promise.resolve({ ok: true, value: () => void (closed += 1) });
      },
    },
    texts,
    (takes) => done.push(takes),
  );
  let count = 0;
  const say = (flaw: TakeFlaw | null = null): void =>
    watcher?.onTake({ text: textNow(), pcm: Int16Array.of((count += 1)), flaw });
  return { reading, say, done, closed: () => closed, watcher: () => watcher };
}

describe('reading for a card', () => {
  it('[CARD12] goes through every text, then through all of them again, and hands over what was good', async () => {
    const { reading, say, done, closed } = setUp(['one', 'two']);
    await reading.open();
    const seen = [];
    for (let turn = 0; turn < 4; turn += 1) {
      seen.push(reading.text);
      say();
    }
    expect(seen).toEqual(['one', 'two', 'one', 'two']);
    expect(done.map((takes) => takes.map(({ text, pcm }) => [text, pcm[0]]))).toEqual([
      [['one', 1], ['two', 2], ['one', 3], ['two', 4]], // prettier-ignore
    ]);
    expect(closed()).toBe(1);
  });

  it('[CARD12] hands it over once, whatever is pressed while it is being kept', async () => {
    const { reading, say, done } = setUp(['one']);
    await reading.open();
    say();
    say();
    reading.leaveOut();
    reading.finish();
    expect(done).toHaveLength(1);
  });

  it('[CARD12] asks again for what was no good, and says why', async () => {
    const { reading, say } = setUp(['one', 'two']);
    await reading.open();
    say('noisy');
    expect([reading.text, reading.last?.flaw]).toEqual(['one', 'noisy']);
    say();
    expect([reading.text, reading.last]).toEqual(['two', { text: 'one', flaw: null }]);
  });

  it('[CARD12] says so where speech is too soft to be recorded at all', async () => {
    const { reading, watcher } = setUp(['one']);
    await reading.open();
    const soft = { levelDb: -70, roomDb: -85, speechDb: -68, gainDb: 0, quality: 'faint' } as const;
    watcher()?.onReading(soft);
    expect(reading.advice).toBe('too-quiet');
    watcher()?.onReading({ ...soft, speechDb: -30, quality: 'well' });
    expect(reading.advice).toBeNull();
  });

  it('[CARD12] takes the last one back, leaves one out, and may end once each text was read', async () => {
    const { reading, say, done } = setUp(['one', 'two']);
    await reading.open();
    say();
    reading.back();
    expect(reading.text).toBe('one');
    expect(reading.canFinish).toBe(false);
    say();
    reading.leaveOut();
    expect(reading.canFinish).toBe(true);
    reading.finish();
    expect(done.map((takes) => takes.map(({ text, pcm }) => [text, pcm[0]]))).toEqual([
      [['one', 2]],
    ]);
  });

  it('[CARD12] begins anew where everything was left out: there is nothing to keep', () => {
    const { reading, done } = setUp(['one']);
    reading.leaveOut();
    reading.leaveOut();
    expect([reading.at, done]).toEqual([0, []]);
  });

  it('[CARD12] takes nothing that comes after a pause, and shows why the microphone does not open', async () => {
    const { reading, say } = setUp(['one']);
    await reading.open();
    reading.rest();
    say();
    expect([reading.at, reading.isOpen]).toEqual([0, false]);
    const why = fault('microphone-refused', { detail: '' });
    const refused = new CardReading({ record: () => Promise.resolve({ ok: false, error: why }) }, ['one'], () => undefined); // prettier-ignore
    await refused.open();
    expect([refused.isOpen, refused.fault]).toEqual([false, why]);
  });
});

describe('a card that was read', () => {
  const line: CardLine = {
    id: 'card-1', label: 'surgeon A', language: 'en-GB', languageName: 'English', version: 1, madeAt: 0,
    addressPhrase: '', takeCount: 2, fault: null,
  }; // prettier-ignore

  it('[CARD12] that can not be kept loses nothing: it can be tried again', async () => {
    let kept: Result<CardLine, Fault> = { ok: false, error: fault('voice-cards-not-kept', { detail: 'full' }) }; // prettier-ignore
    const model = new CardsModel({
      keep: () => Promise.resolve(kept),
      plan: () => ({ ok: true, value: { addressPhrase: '', texts: ['one'], tries: [] } }),
    } as never);
    model.begin({ replaces: null, label: 'surgeon A', language: 'en-GB' }, 'any');
    if (model.stage.kind !== 'read') throw new Error('It is to be read');
    const takes = [{ text: 'one', pcm: Int16Array.of(1) }];
    await model.keep(model.stage.reading, takes);
    expect([model.fault?.code, model.unsaved?.takes]).toEqual(['voice-cards-not-kept', takes]);
    kept = { ok: true, value: line };
    if (model.unsaved) await model.keep(model.unsaved.reading, model.unsaved.takes);
    expect([model.fault, model.unsaved, model.stage.kind]).toEqual([null, null, 'result']);
  });
});

describe('what the shelf of cards breaks off', () => {
  const broken = () => Promise.reject(new Error('closed'));
  const model = new CardsModel({
    list: () => Promise.resolve({ ok: true, value: [] }),
    keep: broken, remove: broken, save: broken, bring: broken,
  } as never); // prettier-ignore
  const line = { id: 'card-1' } as CardLine;
  const reading = { draft: {}, procedureId: 'any', texts: [] } as never;

  it.each([
    ['a file that can not be opened', 'voice-card-unreadable', () => model.bring({ text: broken } as never)],
    ['a file', 'voice-cards-not-kept', () => model.bring(new File(['{}'], 'card.json'))],
    ['keeping', 'voice-cards-not-kept', () => model.keep(reading, [])],
    ['deleting', 'voice-cards-not-kept', () => model.remove(line)],
    ['saving', 'voice-cards-not-kept', () => model.save(line)],
  ])('[CARD24] %s: is said', async (_, code, work) => {
    model.fault = null;
    await work();
    expect(model.fault).toMatchObject({ code });
  }); // prettier-ignore

  it('[CARD24] the list: is said', async () => {
    const listless = new CardsModel({ list: broken } as never);
    await listless.load();
    expect(listless.fault?.code).toBe('voice-cards-not-kept');
  });
});

describe('what is told apart badly', () => {
  const row = (text: string, nearest: string | null, apart: ApartLine['apart']): ApartLine => ({
    text, nearest, apart, ownDistance: 0.1, otherDistance: 0.1,
  }); // prettier-ignore

  it('[CARD13] is named in pairs, each once, and both are read again', () => {
    const rows = [
      row('five', 'nine', 'mixed-up'),
      row('nine', 'five', 'close'),
      row('two', null, 'once'),
      row('step done', 'table done', 'well'),
    ];
    const pairs = listBadPairs(rows);
    expect(pairs).toHaveLength(1);
    expect(pairs[0]).toContain('“five”');
    expect(pairs[0]).toContain('“nine”');
    expect(listTextsToRepeat(rows)).toEqual(['five', 'nine', 'two']);
  });
});
