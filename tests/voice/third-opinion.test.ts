/** The browser's own recogniser, by a double that keeps to the Web Speech API's draft. */
import { describe, expect, it } from 'vitest';
import type { Fault, HeardPhrase } from '../../src/domain';
import { checkOnDevice, decideWithThird, installOnDevice, ThirdOpinion } from '../../src/voice';
import type { RecogniserPlatform } from '../../src/voice';
import { HandClock } from '../support/hand-clock';
import { DEPTH_VOCABULARY } from './depth-vocabulary';

const HEARD: HeardPhrase = {
  words: 'depth two four', score: 0.9, listener: 'both', speechMs: 900, decisionMs: 200,
}; // prettier-ignore
const DOUBT: HeardPhrase = {
  ...HEARD,
  words: null,
  candidates: ['depth two four', 'depth three two'],
};
const TRACK = { kind: 'audio' } as MediaStreamTrack;

/** A browser whose recogniser promises what it is told to promise. */
function createBrowser(promises: AvailabilityStatus) {
  const sessions: HandSession[] = [];
  class HandSession {
    lang = '';
    continuous = false;
    phrases: unknown[] = [];
    track: MediaStreamTrack | null = null;
    isOn = false;
    onresult: ((event: object) => void) | null = null;
    onerror: ((event: object) => void) | null = null;
    onend: (() => void) | null = null;
    #isLocal = false;
    constructor() {
      sessions.push(this);
    }
    set processLocally(isLocal: boolean) {
      this.#isLocal = isLocal;
    }
    get processLocally(): boolean {
      return this.#isLocal;
    }
    start(track: MediaStreamTrack): void {
      this.track = track;
      this.isOn = true;
    }
    abort(): void {
      this.isOn = false;
      this.onend?.();
    }
    says(...transcripts: string[]): void {
      this.onresult?.({ results: [transcripts.map((transcript) => ({ transcript }))] });
    }
    static asked: object[] = [];
    static state: AvailabilityStatus = promises;
    static available(options: object): Promise<AvailabilityStatus> {
      this.asked.push(options);
      return Promise.resolve(this.state);
    }
    static install(): Promise<boolean> {
      this.state = 'available';
      return Promise.resolve(true);
    }
  }
  const Phrase = class {
    constructor(readonly phrase: string) {}
  };
  const platform = { Recognition: HandSession, Phrase } as unknown as RecogniserPlatform;
  return { platform, sessions, HandSession };
}

async function setUp(promises: AvailabilityStatus = 'available') {
  const browser = createBrowser(promises);
  const clock = new HandClock();
  const faults: Fault[] = [];
  const told: HeardPhrase[] = [];
  const wish = { isWanted: true };
  const third = new ThirdOpinion(
    browser.platform,
    clock,
    () => wish.isWanted,
    (fault) => faults.push(fault),
  );
  third.setVocabulary(DEPTH_VOCABULARY);
  third.listenTo(TRACK, 'en-GB');
  await Promise.resolve().then(() => Promise.resolve());
  await new Promise((resolve) => setImmediate(resolve));
  const hear = (heard: HeardPhrase) => {
    third.hear(heard, (decided) => told.push(decided));
  };
  return { ...browser, clock, faults, told, third, hear, wish };
}

describe('whether a browser’s own recogniser is offered', () => {
  it('[VOI72] only where it promises to work on this machine', async () => {
    const { platform, HandSession } = createBrowser('available');
    expect(await checkOnDevice(platform, 'en-GB')).toBe('available');
    expect(HandSession.asked).toEqual([{ langs: ['en-GB'], processLocally: true }]);
    const none = { Recognition: undefined, Phrase: undefined };
    expect(await checkOnDevice(none, 'en-GB')).toBe('none');
    // Browsers before the draft of 2025: no static members, and a setting that changes nothing.
    const older = {
      Recognition: () => undefined,
      Phrase: undefined,
    } as unknown as RecogniserPlatform;
    expect(await checkOnDevice(older, 'en-GB')).toBe('no-promise');
    HandSession.available = () => Promise.reject(new Error('forbidden by policy'));
    expect(await checkOnDevice(platform, 'en-GB')).toBe('unavailable');
  });

  it('[VOI72] is fetched by the browser when a person asks for it', async () => {
    const { platform } = createBrowser('downloadable');
    expect(await checkOnDevice(platform, 'en-GB')).toBe('downloadable');
    expect(await installOnDevice(platform, 'en-GB')).toBe('available');
  });

  it('[VOI72] is never begun where it is not wanted or not promised; the latter is told', async () => {
    const { sessions, faults, third, wish } = await setUp('unavailable');
    expect(sessions).toEqual([]);
    expect(faults.map(({ code }) => code)).toEqual(['browser-recogniser-stopped']);
    wish.isWanted = false;
    third.listenTo(TRACK, 'en-GB');
    expect(sessions).toEqual([]);
    expect(faults).toHaveLength(1);
  });
});

describe('the browser’s own recogniser', () => {
  it('[VOI73] hears the wall’s microphone on this machine, knows what may be said, begins again after silence, and ends with the wish', async () => {
    const { sessions, clock, third, wish } = await setUp();
    expect(sessions[0]).toMatchObject({ processLocally: true, track: TRACK, lang: 'en-GB' });
    expect(sessions[0]?.phrases).toContainEqual({ phrase: 'theatre wall depth two four' });
    sessions[0]?.onend?.();
    clock.advance(1_000);
    expect(sessions[1]?.isOn).toBe(true);
    wish.isWanted = false;
    third.review();
    expect(sessions[1]?.isOn).toBe(false);
    clock.advance(10_000);
    expect(sessions).toHaveLength(2);
  });

  it('[VOI73] does not listen while the ear is shut', async () => {
    const { sessions, third } = await setUp();
    third.setVocabulary({ ...DEPTH_VOCABULARY, isShut: true });
    expect(sessions.filter(({ isOn }) => isOn)).toEqual([]);
    third.setVocabulary(DEPTH_VOCABULARY);
    expect(sessions.at(-1)?.isOn).toBe(true);
  });

  it('[VOI73] is given up, and that is told, where it may not be used', async () => {
    const { sessions, clock, faults } = await setUp();
    sessions[0]?.onerror?.({ error: 'no-speech' });
    expect(faults).toEqual([]);
    sessions[0]?.onerror?.({ error: 'language-not-supported' });
    clock.advance(10_000);
    expect(sessions).toHaveLength(1);
    expect(faults.map(({ code }) => code)).toEqual(['browser-recogniser-stopped']);
  });

  it('[VOI74] settles a doubt when its words come in time, and never later', async () => {
    const { sessions, clock, told, third, hear } = await setUp();
    hear(DOUBT);
    expect(told).toEqual([]);
    sessions[0]?.says('Theatre wall depth 24.');
    expect(told[0]?.words).toBe('depth two four');
    third.beginUtterance();
    hear(DOUBT);
    clock.advance(2_000);
    expect(told[1]).toEqual(DOUBT);
    sessions[0]?.says('theatre wall depth two four');
    expect(told).toHaveLength(2);
  });

  it('[VOI74] holds up nothing that the wall’s own listeners are sure of', async () => {
    const { told, hear } = await setUp();
    hear(HEARD);
    hear({ ...HEARD, words: null });
    expect(told.map(({ words }) => words)).toEqual(['depth two four', null]);
  });
});

describe('a third opinion', () => {
  const decide = (heard: HeardPhrase, ...said: string[]) =>
    decideWithThird(heard, said, DEPTH_VOCABULARY);

  it('[VOI74] alone is never enough', () => {
    const nothing = { ...HEARD, words: null };
    expect(decide(nothing, 'theatre wall depth two four').words).toBeNull();
    expect(decide(nothing, 'theatre wall pin placed').words).toBeNull();
    expect(
      decide({ ...DOUBT, hasTwoVoices: true }, 'theatre wall depth two four').words,
    ).toBeNull();
  });

  it('[VOI74] makes a size of the likelier candidate only, and of no word without the address phrase', () => {
    expect(decide(DOUBT, 'theatre wall depth three two').words).toBeNull();
    expect(decide(DOUBT, 'depth two four').words).toBeNull();
    const orders = { ...DOUBT, candidates: ['pin placed', 'say again'] };
    expect(decide(orders, 'theatre wall say again').words).toBe('say again');
  });

  it('[VOI74] adds nothing to how sure the wall is, and gives the second candidate what the first leaves', () => {
    const orders = { ...DOUBT, score: 0.7, candidates: ['pin placed', 'say again'] };
    expect(decide(orders, 'theatre wall pin placed').score).toBe(0.7);
    expect(decide(orders, 'theatre wall say again').score).toBeCloseTo(0.3, 12);
  });

  it('[VOI74] questions a size that it heard otherwise, and no other order', () => {
    expect(decide(HEARD, 'theatre wall depth 32')).toMatchObject({
      words: null,
      candidates: ['depth two four', 'depth three two'],
    });
    expect(decide(HEARD, 'theatre wall depth twenty four').words).toBe('depth two four');
    const order = { ...HEARD, words: 'pin placed' };
    expect(decide(order, 'theatre wall say again').words).toBe('pin placed');
  });
});
