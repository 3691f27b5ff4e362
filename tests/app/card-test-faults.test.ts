/** What breaks off while a card is tested or compared is said; the ear and the worker are made up. */
import { afterEach, expect, it, vi } from 'vitest';
import { startCardTest } from '../../src/app/voice/card-test';
import type { Fault } from '../../src/domain';
import { CARD_FORMAT, compareTakes } from '../../src/voice';
import type { VoiceCard } from '../../src/voice';

const CARD: VoiceCard = {
  format: CARD_FORMAT, id: 'card-1', label: 'surgeon A', language: 'en-GB', version: 1, madeAt: 0,
  addressPhrase: '', takes: [],
}; // prettier-ignore

afterEach(() => {
  vi.unstubAllGlobals();
});

it.each(['setVoices', 'setVocabulary', 'startListening'])(
  '[CARD24] a test whose ear breaks off in %s says so and is off',
  async (broken) => {
    const faults: Fault[] = [];
    const states: string[] = [];
    const fine = () => Promise.resolve();
    const ear = {
      setVoices: fine, setVocabulary: fine, startListening: fine, close: fine,
      [broken]: () => Promise.reject(new Error('gone')),
    }; // prettier-ignore
    const watcher = {
      onState: (state: string) => states.push(state),
      onHeard: () => undefined,
      onFault: (why: Fault) => faults.push(why),
    };
    const scheduler = { after: () => () => undefined };
    const started = startCardTest('', CARD, [], watcher, scheduler, () => ear as never);
    expect(started.ok).toBe(true);
    await vi.waitFor(() => {
      expect(faults.map(({ code }) => code)).toEqual(['card-test-failed']);
    });
    expect(states).toEqual(['off']);
  },
);

it('[CARD24] an answer of the comparing worker that can’t be taken is said, and the worker is freed', async () => {
  const ended: string[] = [];
  class BrokenWorker {
    onmessageerror: (() => void) | null = null;
    postMessage(): void {
      queueMicrotask(() => this.onmessageerror?.());
    }
    terminate(): void {
      ended.push('terminated');
    }
  }
  vi.stubGlobal('Worker', BrokenWorker);
  const compared = await compareTakes('http://localhost/', []);
  expect(compared).toMatchObject({ ok: false, error: { code: 'voice-card-not-compared' } });
  expect(ended).toEqual(['terminated']);
});
