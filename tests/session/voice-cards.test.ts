/** Whose voice cards a case hears with: as it was set up, and as its roles were handed over since. */
import { describe, expect, it } from 'vitest';
import { asId } from '../../src/domain';
import type { NamedCard, PickedCard, RoleId } from '../../src/domain';
import { CaseLog } from '../../src/session';
import { factsToText, textToFacts } from '../../src/session/kept/case-snapshot';
import { openSampleCase, SAMPLE_SETTINGS } from '../support/sample-case';

const named = (card: string, label: string, language = 'en-GB'): NamedCard => ({
  card,
  label,
  version: 2,
  language,
});
const SURGEON: PickedCard = { role: 'surgeon', ...named('card-5d0c2b7e', 'surgeon A') };
const SCRUB: PickedCard = { role: 'scrub', ...named('card-91ae44f0', 'scrub A') };
const NEWCOMER = named('card-2f60b8d3', 'scrub B');

async function openCase(voiceCards: readonly PickedCard[] = [SURGEON, SCRUB]) {
  const sample = await openSampleCase({ procedure: 'reverse-shoulder', voiceCards });
  const { session } = sample;
  return {
    ...sample,
    handOver: async (role: string, label: string, voiceCard: NamedCard | null) => {
      // One moment, one order.
      sample.clock.advance(1_000);
      const order = { type: 'role.handOver', role: asId<RoleId>(role), label, voiceCard } as const;
      return (await session.submit(order, 'desk')).refusal;
    },
    heardWith: () => session.view.voiceCards.map(({ role, label }) => `${role}: ${label}`),
  };
}

describe('a case with voice cards', () => {
  it('[CARD9] says which voice cards it was set up with, also once it is taken up again', async () => {
    const voiceCards = [SURGEON];
    const { session } = await openSampleCase({ voiceCards });
    expect(session.view.voiceCards).toEqual(voiceCards);
    const later = CaseLog.rebuild(session.entries, SAMPLE_SETTINGS);
    expect(later.ok && later.value.setup?.voiceCards).toEqual(voiceCards);
    expect((await openSampleCase()).session.view.voiceCards).toEqual([]);
  });

  it('[CARD20] hears a role that was handed over with the newcomer’s card, or without one', async () => {
    const { session, handOver, heardWith } = await openCase();
    expect(await handOver('scrub', 'scrub B', NEWCOMER)).toBeNull();
    expect(session.entries.findLast(({ type }) => type === 'role.handedOver')).toMatchObject({
      data: { role: 'scrub', label: 'scrub B', voiceCard: NEWCOMER },
    });
    expect(heardWith()).toEqual(['surgeon: surgeon A', 'scrub: scrub B']);
    expect(await handOver('surgeon', 'surgeon B', null)).toBeNull();
    expect(heardWith()).toEqual(['scrub: scrub B']);
    // A card that was given up may be taken by somebody else; the one that left stays known to the record.
    expect(session.view.everCards.map(({ label }) => label)).toEqual([
      'surgeon A',
      'scrub A',
      'scrub B',
    ]);
  });

  it('[CARD20] gives the card of before back when the hand-over is taken back', async () => {
    const { session, handOver, heardWith } = await openCase();
    await handOver('scrub', 'scrub B', NEWCOMER);
    await handOver('scrub', 'scrub C', null);
    expect(heardWith()).toEqual(['surgeon: surgeon A']);
    expect((await session.submit({ type: 'order.undo' }, 'desk')).refusal).toBeNull();
    expect(heardWith()).toEqual(['surgeon: surgeon A', 'scrub: scrub B']);
    expect(session.view.roleHolders.find(({ role }) => role === 'scrub')?.label).toBe('scrub B');
  });

  it('[CARD20] is the same from its entries and from a snapshot, also where a hand-over is older than cards', async () => {
    const { session, handOver } = await openCase();
    await handOver('scrub', 'scrub B', NEWCOMER);
    const rebuilt = CaseLog.rebuild(session.entries, SAMPLE_SETTINGS);
    if (!rebuilt.ok) throw new Error(rebuilt.error.code);
    expect(rebuilt.value.view(0, null).voiceCards).toEqual(session.view.voiceCards);
    const { facts, compiled, setup } = rebuilt.value;
    const text = factsToText(facts);
    if (!setup || text === null) throw new Error('the case was opened');
    expect(textToFacts(compiled, setup, text).cards).toEqual(facts.cards);
    // As hand-overs were written before they had a card: it stayed as it was picked at set-up.
    const older = session.entries.map((entry) =>
      entry.type === 'role.handedOver'
        ? { ...entry, data: { role: entry.data.role, label: entry.data.label } }
        : entry,
    );
    const before = CaseLog.rebuild(older, SAMPLE_SETTINGS);
    expect(before.ok && before.value.view(0, null).voiceCards).toEqual([SURGEON, SCRUB]);
  });

  it('[CARD21] takes a newcomer’s card in the language of the case only, and none of another role', async () => {
    const { session, handOver, heardWith } = await openCase();
    const before = heardWith();
    const french = named('card-77777777', 'scrub F', 'fr-FR');
    // ISO 639-1: "fr" is French.
    expect(await handOver('scrub', 'scrub F', french)).toMatchObject({
      code: 'voice-card-other-language',
      params: { received: 'French', expected: 'English' },
    });
    const { role, ...surgeons } = SURGEON;
    expect(role).toBe('surgeon');
    expect((await handOver('scrub', 'scrub B', surgeons))?.code).toBe('voice-card-taken');
    expect(heardWith()).toEqual(before);
    expect(session.entries.filter(({ type }) => type === 'order.refused')).toHaveLength(2);
    // The same person may take their role over again.
    expect(await handOver('surgeon', 'surgeon A', surgeons)).toBeNull();
  });

  it('[CARD21] keeps the language that it was opened in, with whatever cards', async () => {
    const french = { ...SURGEON, language: 'fr-FR' };
    const { session, handOver } = await openCase([french]);
    expect(await handOver('surgeon', 'surgeon B', null)).toBeNull();
    expect(session.view).toMatchObject({ voiceCards: [], spokenLanguage: 'fr-FR' });
    expect((await handOver('scrub', 'scrub B', NEWCOMER))?.code).toBe('voice-card-other-language');
    const without = await openCase([]);
    expect(await without.handOver('scrub', 'scrub B', NEWCOMER)).toBeNull();
    expect(without.heardWith()).toEqual(['scrub: scrub B']);
  });
});
