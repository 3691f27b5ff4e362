import { describe, expect, it } from 'vitest';
import { err, fault, ok } from '../../src/domain';
import type { Fault, Result, Vocabulary } from '../../src/domain';
import { BrowserMicrophone, Ear } from '../../src/voice';
import type {
  CaseVoices, HearingHost, HearingHostEvents, Microphone, OpenMicrophone,
} from '../../src/voice'; // prettier-ignore
import { vocabularyOf } from './real-listener';

class HandHost implements HearingHost {
  events: HearingHostEvents | null = null;
  startsWith: Result<null, Fault> = ok(null);
  connected = 0;
  pushed = 0;
  gates: boolean[] = [];
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
  gate(isSpeaking: boolean): void {
    this.gates.push(isSpeaking);
  }
  async push(pcm: Float32Array): Promise<void> {
    this.pushed += pcm.length;
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
  async open(onLost: (fault: Fault) => void): Promise<Result<OpenMicrophone, Fault>> {
    if (this.opensWith) return err(this.opensWith);
    this.isOpen = true;
    this.lose = onLost;
    return ok({
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
  const states: string[] = [];
  const faults: Fault[] = [];
  const ear = new Ear(
    { host, microphone },
    {
      onPhrase: () => undefined,
      onLevel: () => undefined,
      onState: (state, why) => states.push(why ? `${state}: ${why.code}` : state),
      onFault: (why) => faults.push(why),
    },
  );
  return { host, microphone, ear, states, faults };
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
    await ear.setVoices({ language: 'fr-FR', cards: [] });
    expect(host.voices).toEqual({ language: 'fr-FR', cards: [] });
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
    expect(host.gates).toEqual([true, false]);
  });
});

describe('the microphone', () => {
  // Names of the errors: Media Capture and Streams, W3C, section on getUserMedia.
  it.each([
    ['NotAllowedError', 'microphone-refused'],
    ['SecurityError', 'microphone-refused'],
    ['NotFoundError', 'microphone-missing'],
    ['OverconstrainedError', 'microphone-missing'],
  ])('[VOI12] takes %s for %s', async (name, code) => {
    const microphone = new BrowserMicrophone({
      getUserMedia: () => Promise.reject(new DOMException('no', name)),
      createContext: () => {
        throw new Error('Not reached');
      },
      captureUrl: async () => '',
    });
    const opened = await microphone.open(() => undefined);
    expect(opened.ok ? null : opened.error.code).toBe(code);
  });

  it('[VOI12] takes a browser without microphones for a missing one', async () => {
    const microphone = new BrowserMicrophone({
      getUserMedia: async () => (undefined as unknown as MediaDevices).getUserMedia({}),
      createContext: () => {
        throw new Error('Not reached');
      },
      captureUrl: async () => '',
    });
    const opened = await microphone.open(() => undefined);
    expect(opened.ok ? null : opened.error.code).toBe('microphone-missing');
  });
});
