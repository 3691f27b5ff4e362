/** What a window's ear is told of the voices of its case. The case is a real one on a memory record. */
import { describe, expect, it } from 'vitest';
import { CaseVoicesKeeper } from '../../src/app/voice/case-voices';
import { asId, fault } from '../../src/domain';
import type { Fault, NamedCard, PickedCard, RoleId } from '../../src/domain';
import type { CardVoice, CaseVoices } from '../../src/voice';
import { openSampleCase } from '../support/sample-case';

const named = (label: string, language = 'en-GB'): NamedCard => ({
  card: `card-of-${label.replace(' ', '-').toLowerCase()}`,
  label,
  version: 1,
  language,
});
const SURGEON: PickedCard = { role: 'surgeon', ...named('surgeon A') };
const B = named('surgeon B');

async function setUp(voiceCards: readonly PickedCard[] = [SURGEON]) {
  const { session, clock } = await openSampleCase({ procedure: 'reverse-shoulder', voiceCards });
  const told: string[] = [];
  const faults: Fault[] = [];
  /** Loads that wait for a hand, in the order they began. */
  const waiting: (() => void)[] = [];
  const ears = { isSlow: false, isBroken: false };
  const openWindow = () =>
    new CaseVoicesKeeper(
      {
        load: async (picked) => {
          if (ears.isSlow) await new Promise<void>((resolve) => waiting.push(resolve));
          const missing = picked.filter(({ label }) => label === 'nobody');
          return {
            cards: picked.map(({ label }): CardVoice => ({ label, takes: [] })),
            faults: missing.map(({ label }) =>
              fault('voice-card-missing', { name: label, detail: '' }),
            ),
          };
        },
      },
      {
        setVoices: ({ language, cards }: CaseVoices) => {
          if (ears.isBroken) return Promise.reject(new Error('no worker'));
          told.push(`${language.tag}: ${cards.map(({ label }) => label).join(', ')}`);
          return Promise.resolve();
        },
      },
      (why) => faults.push(why),
    );
  const settle = () => new Promise((resolve) => setTimeout(resolve));
  const handOver = async (voiceCard: NamedCard | null) => {
    // One moment, one order.
    clock.advance(1_000);
    const role = asId<RoleId>('surgeon');
    await session.submit({ type: 'role.handOver', role, label: 'surgeon B', voiceCard }, 'desk');
    await settle();
  };
  return { session, told, faults, waiting, ears, openWindow, settle, handOver };
}

describe('the voices that a window’s ear knows', () => {
  it('[CARD20] are the newcomer’s as soon as a role is handed over, and those of before when that is taken back', async () => {
    const { session, told, openWindow, settle, handOver } = await setUp();
    openWindow().follow(session);
    await settle();
    await handOver(B);
    await session.submit({ type: 'question.ask', question: 'next' }, 'desk');
    await handOver(null);
    await session.submit({ type: 'order.undo' }, 'desk');
    await settle();
    // Nothing is told again while the cards stay.
    expect(told).toEqual(['en-GB: surgeon A', 'en-GB: surgeon B', 'en-GB: ', 'en-GB: surgeon B']);
  });

  it('[CARD20] are those of now in a window that is opened late', async () => {
    const { session, told, openWindow, settle, handOver } = await setUp();
    await handOver(B);
    openWindow().follow(session);
    await settle();
    expect(told).toEqual(['en-GB: surgeon B']);
  });

  it('[CARD20] are the last ones where a card is read slower than the next hand-over comes', async () => {
    const { session, told, waiting, ears, openWindow, settle, handOver } = await setUp();
    ears.isSlow = true;
    openWindow().follow(session);
    await handOver(B);
    expect(waiting).toHaveLength(2);
    waiting.reverse().forEach((go) => go());
    await settle();
    expect(told).toEqual(['en-GB: surgeon B']);
  });

  it('[CARD9] and a card that is gone is told', async () => {
    const { session, faults, openWindow, settle } = await setUp([{ role: 'surgeon', ...named('nobody') }]); // prettier-ignore
    openWindow().follow(session);
    await settle();
    expect(faults.map(({ code }) => code)).toEqual(['voice-card-missing']);
  });

  it('[CARD24] that the ear did not take are told, and given again at the next change', async () => {
    const { session, told, faults, ears, openWindow, settle } = await setUp();
    ears.isBroken = true;
    openWindow().follow(session);
    await settle();
    expect(faults.map(({ code }) => code)).toEqual(['voices-not-told']);
    ears.isBroken = false;
    await session.submit({ type: 'question.ask', question: 'next' }, 'desk');
    await settle();
    expect(told).toEqual(['en-GB: surgeon A']);
  });

  it('[LANG7] are nobody’s in a language that this version can not hear: English, and said so', async () => {
    const { session, told, faults, openWindow, settle } = await setUp([{ ...SURGEON, language: 'de-DE' }]); // prettier-ignore
    openWindow().follow(session);
    await settle();
    expect(told).toEqual(['en-GB: ']);
    expect(faults).toMatchObject([{ code: 'language-unknown', params: { language: 'German' } }]);
  });
});
