import { describe, expect, it } from 'vitest';
import { fault } from '../../src/domain';
import type { CardLine } from '../../src/ui';
import { CardChoice } from '../../src/ui/start/card-choice.svelte';

const line = (id: string, change: Partial<CardLine> = {}): CardLine => ({
  id,
  label: `role ${id}`,
  language: 'en-GB',
  languageName: 'English',
  version: 2,
  madeAt: 0,
  addressPhrase: 'theatre wall',
  takeCount: 40,
  fault: null,
  ...change,
});
const CARDS = [line('a'), line('b'), line('f', { language: 'fr-FR', languageName: 'français' })];

async function choose(cards: readonly CardLine[]): Promise<CardChoice> {
  const choice = new CardChoice({
    list: () => Promise.resolve({ ok: true, value: cards }),
    whyUnfit: ({ fault: why }) => (why ? 'can’t be read' : null),
  });
  await choice.load();
  return choice;
}

describe('picking voice cards at set-up', () => {
  it('[CARD9] gives the record role, card, its role name, version and language', async () => {
    const choice = await choose(CARDS);
    expect(choice.voiceCards).toEqual([]);
    choice.pick('surgeon', 'a');
    choice.pick('circulating', 'b');
    expect(choice.voiceCards).toEqual([
      { role: 'surgeon', card: 'a', label: 'role a', version: 2, language: 'en-GB' },
      { role: 'circulating', card: 'b', label: 'role b', version: 2, language: 'en-GB' },
    ]);
    choice.pick('surgeon', '');
    expect(choice.voiceCards.map(({ role }) => role)).toEqual(['circulating']);
  });

  it('[CARD10] takes one language for a case, and one card for one role', async () => {
    const choice = await choose(CARDS);
    choice.pick('surgeon', 'a');
    expect(choice.whyNot('scrub', CARDS[1] as CardLine)).toBeNull();
    expect(choice.whyNot('scrub', CARDS[2] as CardLine)).toContain('français');
    expect(choice.whyNot('scrub', CARDS[0] as CardLine)).not.toBeNull();
    expect(choice.whyNot('surgeon', CARDS[2] as CardLine)).toBeNull();
  });

  it('[CARD10] leaves out a card that can not be used, and goes on without cards where none can be read', async () => {
    const broken = await choose([
      line('x', { fault: fault('voice-card-unreadable', { detail: '' }) }),
    ]);
    broken.pick('surgeon', 'x');
    expect(broken.voiceCards).toEqual([]);
    const failed = new CardChoice({
      list: () =>
        Promise.resolve({ ok: false, error: fault('voice-cards-not-kept', { detail: '' }) }),
      whyUnfit: () => null,
    });
    await failed.load();
    expect(failed.fault?.code).toBe('voice-cards-not-kept');
    expect(failed.voiceCards).toEqual([]);
  });
});
