import { describe, expect, it } from 'vitest';
import { err, fault, ok } from '../../src/domain';
import type { Fault, Result, SoundReading, Vocabulary } from '../../src/domain';
import { BrowserMicrophone, Ear } from '../../src/voice';
import type {
  CaseVoices,
  HearingHost,
  HearingHostEvents,
  Microphone,
  MicrophoneEvents,
  OpenMicrophone,
  WallSpeech,
} from '../../src/voice';
import { HandClock } from '../support/hand-clock';
import { vocabularyOf } from './real-listener';
import { FRENCH } from '../support/french';

class HandHost implements HearingHost {
  events: HearingHostEvents | null = null;
  startsWith: Result<null, Fault> = ok(null);
  connected = 0;
  pushed = 0;
  gates: [boolean, WallSpeech | undefined][] = [];
  restarts = 0;
  /** Answers a question only where it lives. */
  isAlive = true;
  vocabularies: Vocabulary[] = [];
  async start(events: HearingHostEvents): Promise<Result<null, Fault>> {
    this.events = events;
    return this.startsWith;
  }
  async setVocabulary(vocabulary: Vocabulary): Promise<readonly Fault[]> {
    this.vocabularies.push(vocabulary);
    return vocabulary.phrases.length > 1 ? [fault('word-not-pronounceable', { word: 'xqz' })] : [];
  }
  voices: CaseVoices | null = null;
  async setVoices(voices: CaseVoices): Promise<void> {
    this.voices = voices;
  }
  gate(isSpeaking: boolean, speech?: WallSpeech): void {
    this.gates.push([isSpeaking, speech]);
  }
  async push(pcm: Float32Array): Promise<void> {
    this.pushed += pcm.length;
    if (!this.isAlive) await new Promise(() => undefined);
  }
  restart(): void {
    this.restarts += 1;
  }
  listenTo(): void {
    this.connected += 1;
  }
  async close(): Promise<void> {
    this.events = null;
  }
}

class HandMicrophone implements Microphone {
  opensWith: Fault | null = null;
  isOpen = false;
  lose: (fault: Fault) => void = () => undefined;
  pause: (why: Fault | null) => void = () => undefined;
  /** Plugs one in; null where nobody waits for one. */
  plugIn: (() => void) | null = null;
  isEchoCancelled = true;
  /** Allows it after a refusal; null where nobody waits for that. */
  allow: (() => void) | null = null;
  whenAllowed(callback: () => void): () => void {
    this.allow = callback;
    return () => (this.allow = null);
  }
  whenPresent(callback: () => void): () => void {
    this.plugIn = callback;
    return () => (this.plugIn = null);
  }
  async open({ onLost, onPaused }: MicrophoneEvents): Promise<Result<OpenMicrophone, Fault>> {
    if (this.opensWith) return err(this.opensWith);
    this.isOpen = true;
    this.lose = onLost;
    this.pause = onPaused;
    return ok({
      isEchoCancelled: this.isEchoCancelled,
      track: {} as MediaStreamTrack,
      connect: () => new MessageChannel().port1,
      close: () => {
        this.isOpen = false;
      },
    });
  }
}

function setUp() {
  const host = new HandHost();
  const microphone = new HandMicrophone();
  const clock = new HandClock();
  const states: string[] = [];
  const phrases: (string | null)[] = [];
  const faults: Fault[] = [];
  const ear = new Ear(
    { host, microphone, scheduler: clock },
    {
      onPhrase: ({ words }) => phrases.push(words),
      onLevel: () => undefined,
      onState: (state, why) => states.push(why ? `${state}: ${why.code}` : state),
      onFault: (why) => faults.push(why),
    },
  );
  return { host, microphone, ear, states, faults, clock, phrases };
}

describe('the ear', () => {
  it('[VOI12] goes from off through starting to listening, and off again', async () => {
    const { ear, host, microphone, states } = setUp();
    await ear.startListening();
    host.events?.onHearing(true);
    host.events?.onHearing(false);
    ear.stop();
    expect(states).toEqual(['starting', 'listening', 'hearing', 'listening', 'off']);
    expect(host.connected).toBe(1);
    expect(microphone.isOpen).toBe(false);
  });

  it.each(['microphone-missing', 'microphone-refused'] as const)(
    '[VOI12] says %s, and listens when asked again',
    async (code) => {
      const { ear, microphone, states } = setUp();
      microphone.opensWith = fault(code);
      await ear.startListening();
      microphone.opensWith = null;
      await ear.startListening();
      expect(states).toEqual(['starting', `lost: ${code}`, 'starting', 'listening']);
    },
  );

  it('[VOI12] says that the microphone was lost, and listens when asked again', async () => {
    const { ear, microphone, states } = setUp();
    await ear.startListening();
    microphone.lose(fault('microphone-lost'));
    await ear.startListening();
    expect(states.slice(2)).toEqual(['lost: microphone-lost', 'starting', 'listening']);
  });

  it('[VOI12] says that the listener failed, closes the microphone, and can start again', async () => {
    const { ear, host, microphone, states } = setUp();
    await ear.startListening();
    host.events?.onFailed(fault('listener-failed'));
    expect(microphone.isOpen).toBe(false);
    await ear.startListening();
    expect(states.slice(2)).toEqual(['failed: listener-failed', 'starting', 'listening']);
  });

  it('[VOI12] asks for no microphone where the listener does not load', async () => {
    const { ear, host, microphone, states } = setUp();
    host.startsWith = err(fault('listener-failed'));
    await ear.startListening();
    expect(states).toEqual(['starting', 'failed: listener-failed']);
    expect(microphone.isOpen).toBe(false);
  });

  it('[VOI12] stays off where it was stopped while starting', async () => {
    const { ear, microphone, states } = setUp();
    const starting = ear.startListening();
    ear.stop();
    await starting;
    expect(states).toEqual(['starting', 'off']);
    expect(microphone.isOpen).toBe(false);
  });

  it('[VOI13] connects the microphone anew after the listener was restarted', async () => {
    const { ear, host } = setUp();
    await ear.startListening();
    host.events?.onRestarted();
    expect(host.connected).toBe(2);
  });

  it('[VOI14] hears recorded sound the same way, instead of the microphone', async () => {
    const { ear, host, microphone, states } = setUp();
    await ear.startListening();
    await ear.hear(new Float32Array(16_000));
    expect(microphone.isOpen).toBe(false);
    expect(states).toEqual(['starting', 'listening']);
    // One second of sound, 300 ms of silence before it and 700 ms after it.
    expect(host.pushed).toBe(32_000);
  });

  it('[VOI2] tells of words that can not be heard, also those set before it started', async () => {
    const { ear, host, faults } = setUp();
    await ear.setVocabulary(vocabularyOf(['step done', 'xqz']));
    await ear.startListening();
    expect(host.vocabularies).toHaveLength(2);
    expect(faults.map(({ code }) => code)).toContain('word-not-pronounceable');
  });

  it('[LANG5] changes the language with the microphone on, and says the phrases in it', async () => {
    const { ear, host, microphone } = setUp();
    await ear.startListening();
    await ear.setVocabulary(vocabularyOf(['step done']));
    await ear.setVoices({ language: FRENCH, cards: [] });
    expect(host.voices).toEqual({ language: FRENCH, cards: [] });
    expect(host.vocabularies.at(-1)).toMatchObject({
      addressPhrase: 'mur du bloc',
      phrases: [{ words: 'étape terminée' }],
    });
    expect(microphone.isOpen).toBe(true);
    expect(ear.state).toBe('listening');
  });

  it('[VOI7] passes on that the wall speaks', () => {
    const { ear, host } = setUp();
    ear.gate(true);
    ear.gate(false);
    expect(host.gates.map(([isSpeaking]) => isSpeaking)).toEqual([true, false]);
  });
});

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const reading = (levelDb: number): SoundReading => ({
  levelDb, roomDb: -60, speechDb: -20, gainDb: 0, quality: 'well',
}); // prettier-ignore

describe('an ear that loses its sound', () => {
  it.each(['microphone-lost', 'microphone-missing'] as const)(
    '[EAR1] listens again by itself when a %s comes back',
    async (code) => {
      const { ear, microphone, states } = setUp();
      await ear.startListening();
      microphone.lose(fault(code));
      microphone.plugIn?.();
      await turn();
      expect(states.slice(2)).toEqual([`lost: ${code}`, 'listening']);
      expect(microphone.plugIn).toBeNull();
    },
  );

  it('[EAR1] waits on where the microphone that came back does not open', async () => {
    const { ear, microphone, states, clock } = setUp();
    await ear.startListening();
    microphone.lose(fault('microphone-lost'));
    microphone.opensWith = fault('microphone-missing');
    microphone.plugIn?.();
    await turn();
    expect(states.slice(2)).toEqual(['lost: microphone-lost', 'lost: microphone-missing']);
    clock.advance(2_000);
    expect(microphone.plugIn).not.toBeNull();
  });

  it('[EAR13] is tried more and more rarely where another program holds it, and stays lost meanwhile', async () => {
    const { ear, microphone, states, clock } = setUp();
    microphone.opensWith = fault('microphone-busy');
    await ear.startListening();
    const waitsS: number[] = [];
    for (let time = 0; time < 7; time += 1) {
      microphone.plugIn?.();
      await turn();
      let waitS = 0;
      for (; microphone.plugIn === null && waitS < 100; waitS += 1) clock.advance(1_000);
      waitsS.push(waitS);
    }
    expect(waitsS).toEqual([2, 4, 8, 16, 32, 32, 32]);
    expect(new Set(states)).toEqual(new Set(['starting', 'lost: microphone-busy']));
    expect(states.filter((state) => state === 'starting')).toHaveLength(1);
    microphone.opensWith = null;
    microphone.plugIn?.();
    await turn();
    expect(states.at(-1)).toBe('listening');
  });

  it('[EAR13] hears by itself when a refused microphone is allowed, and not after it was switched off', async () => {
    const { ear, microphone, states } = setUp();
    microphone.opensWith = fault('microphone-refused');
    await ear.startListening();
    microphone.opensWith = null;
    microphone.allow?.();
    await turn();
    expect(states.slice(1)).toEqual(['lost: microphone-refused', 'listening']);
    microphone.opensWith = fault('microphone-refused');
    ear.stop();
    await ear.startListening();
    ear.stop();
    expect(microphone.allow).toBeNull();
  });

  it('[EAR1] does not ask for a refused microphone again, nor for any after it was switched off', async () => {
    const { ear, microphone } = setUp();
    microphone.opensWith = fault('microphone-refused');
    await ear.startListening();
    expect(microphone.plugIn).toBeNull();
    microphone.opensWith = fault('microphone-missing');
    await ear.startListening();
    ear.stop();
    expect(microphone.plugIn).toBeNull();
  });

  it('[EAR2] says why an open microphone gives no sound, and hears when it does', async () => {
    const { ear, microphone, states } = setUp();
    await ear.startListening();
    microphone.pause(fault('microphone-muted'));
    microphone.pause(null);
    microphone.pause(fault('microphone-suspended'));
    microphone.pause(null);
    expect(states.slice(2)).toEqual([
      'lost: microphone-muted',
      'listening',
      'lost: microphone-suspended',
      'listening',
    ]);
  });

  it('[EAR2] takes ten seconds of nothing but zeros for a dead microphone, until there is sound', async () => {
    const { ear, host, states } = setUp();
    await ear.startListening();
    for (let i = 0; i < 39; i += 1) host.events?.onLevel(-100, reading(-100));
    expect(states.at(-1)).toBe('listening');
    host.events?.onLevel(-100, reading(-100));
    expect(states.at(-1)).toBe('lost: microphone-silent');
    host.events?.onLevel(-80, reading(-80));
    expect(states.at(-1)).toBe('listening');
  });

  it('[EAR3] replaces a listener that neither tells nor answers', async () => {
    const { ear, host, clock } = setUp();
    await ear.startListening();
    host.isAlive = false;
    clock.advance(3_000);
    expect(host.restarts).toBe(0);
    clock.advance(2_000);
    expect(host.restarts).toBe(1);
  });

  it('[EAR3] blames the microphone where the listener answers and no sound comes', async () => {
    const { ear, host, clock, states } = setUp();
    await ear.startListening();
    clock.advance(3_000);
    await turn();
    clock.advance(10_000);
    expect(host.restarts).toBe(0);
    expect(states.at(-1)).toBe('lost: microphone-silent');
    host.events?.onLevel(-50, reading(-50));
    expect(states.at(-1)).toBe('listening');
  });

  it('[EAR3] is content while readings come', async () => {
    const { ear, host, clock, states } = setUp();
    await ear.startListening();
    host.isAlive = false;
    for (let i = 0; i < 20; i += 1) {
      clock.advance(2_000);
      host.events?.onLevel(-50, reading(-50));
    }
    expect(host.restarts).toBe(0);
    expect(states.at(-1)).toBe('listening');
  });

  it('[EAR4] tells that what was being said is lost, and listens when the listener is back', async () => {
    const { ear, host, states, faults, phrases } = setUp();
    await ear.startListening();
    host.events?.onLostListener(true);
    expect(phrases).toEqual([null]);
    expect(faults.map(({ code }) => code)).toEqual(['utterance-lost']);
    host.events?.onRestarted();
    expect(states.slice(2)).toEqual(['starting', 'listening']);
    host.events?.onLostListener(false);
    expect(phrases).toHaveLength(1);
  });

  it('[EAR8] lets nobody speak over the wall where the browser does not cancel its echo', async () => {
    const { ear, host, microphone } = setUp();
    microphone.isEchoCancelled = false;
    await ear.startListening();
    ear.gate(true, ['depth']);
    expect(host.gates.at(-1)?.[1]).toEqual({ isEchoCancelled: false, texts: ['depth'] });
  });
});

const NO_PLATFORM = {
  wait: async () => undefined,
  watchGestures: () => () => undefined,
  listDevices: async () => [],
  watchDevices: () => () => undefined,
  watchPermission: () => () => undefined,
};

describe('the microphone', () => {
  // Names of the errors: Media Capture and Streams, W3C, section on getUserMedia.
  it.each([
    ['NotAllowedError', 'microphone-refused'],
    ['SecurityError', 'microphone-refused'],
    ['NotReadableError', 'microphone-busy'],
    ['NotFoundError', 'microphone-missing'],
    ['OverconstrainedError', 'microphone-missing'],
  ])('[VOI12] takes %s for %s', async (name, code) => {
    const microphone = new BrowserMicrophone({
      getUserMedia: () => Promise.reject(new DOMException('no', name)),
      createContext: () => {
        throw new Error('Not reached');
      },
      captureUrl: async () => '',
      ...NO_PLATFORM,
    });
    const opened = await microphone.open({ onLost: () => undefined, onPaused: () => undefined });
    expect(opened.ok ? null : opened.error.code).toBe(code);
  });

  it('[VOI12] takes a browser without microphones for a missing one', async () => {
    const microphone = new BrowserMicrophone({
      getUserMedia: async () => (undefined as unknown as MediaDevices).getUserMedia({}),
      createContext: () => {
        throw new Error('Not reached');
      },
      captureUrl: async () => '',
      ...NO_PLATFORM,
    });
    const opened = await microphone.open({ onLost: () => undefined, onPaused: () => undefined });
    expect(opened.ok ? null : opened.error.code).toBe('microphone-missing');
  });
});
