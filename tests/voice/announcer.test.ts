import { describe, expect, it } from 'vitest';
import type { Fault } from '../../src/domain';
import { Announcer, ANNOUNCER_CLIPS, ClipSpeech, PlatformSpeech, toClipKey } from '../../src/voice';
import type { SpeechOutput } from '../../src/voice';

/** Speaks only when told that the segment is over. */
class HandSpeech implements SpeechOutput {
  readonly said: string[] = [];
  #finish: ((isSaid: boolean) => void) | null = null;
  speak(segment: string): Promise<boolean> {
    this.said.push(segment);
    return new Promise((resolve) => (this.#finish = resolve));
  }
  cancel(): void {
    this.#finish?.(true);
  }
  /** Ends the segment under way and lets the announcer go on. */
  async end(isSaid = true): Promise<void> {
    this.#finish?.(isSaid);
    await new Promise((resolve) => setImmediate(resolve));
  }
}

function setUp(...others: SpeechOutput[]) {
  const speech = new HandSpeech();
  const speaking: boolean[] = [];
  const silent: Fault[] = [];
  const announcer = new Announcer([speech, ...others], {
    onSpeaking: (is) => speaking.push(is),
    onSilent: (fault) => silent.push(fault),
  });
  return { speech, speaking, silent, announcer };
}

describe('the announcer', () => {
  it('[VOI9] speaks segments one after another and tells when it speaks', async () => {
    const { speech, speaking, announcer } = setUp();
    const done = announcer.announce({ priority: 'cue', segments: ['next', 'guide pin'] });
    expect(speaking).toEqual([true]);
    expect(speech.said).toEqual(['next']);
    await speech.end();
    expect(speech.said).toEqual(['next', 'guide pin']);
    await speech.end();
    await done;
    expect(speaking).toEqual([true, false]);
  });

  it('[VOI9] speaks the weightiest of what waits first', async () => {
    const { speech, announcer } = setUp();
    void announcer.announce({ priority: 'cue', segments: ['a cue'] });
    void announcer.announce({ priority: 'answer', segments: ['an answer'] });
    void announcer.announce({ priority: 'hold-point', segments: ['not yet'] });
    void announcer.announce({ priority: 'read-back', segments: ['depth two four'] });
    for (let i = 0; i < 4; i += 1) await speech.end();
    expect(speech.said).toEqual(['a cue', 'not yet', 'depth two four', 'an answer']);
  });

  it('[VOI9] replaces a waiting announcement by a newer one of its kind', async () => {
    const { speech, announcer } = setUp();
    void announcer.announce({ priority: 'hold-point', segments: ['not yet'] });
    void announcer.announce({ priority: 'cue', segments: ['old cue'] });
    void announcer.announce({ priority: 'cue', segments: ['new cue'] });
    await speech.end();
    await speech.end();
    expect(speech.said).toEqual(['not yet', 'new cue']);
  });

  it('[VOI9] cuts what is outweighed at its next segment', async () => {
    const { speech, announcer } = setUp();
    void announcer.announce({ priority: 'cue', segments: ['next', 'guide pin'] });
    void announcer.announce({ priority: 'hold-point', segments: ['not yet'] });
    await speech.end();
    await speech.end();
    expect(speech.said).toEqual(['next', 'not yet']);
  });

  it('[VOI9] drops the rest of what is no longer wanted', async () => {
    const { speech, speaking, announcer } = setUp();
    let isWanted = true;
    void announcer.announce({
      priority: 'read-back',
      segments: ['depth', 'two four'],
      isStillWanted: () => isWanted,
    });
    isWanted = false;
    await speech.end();
    expect(speech.said).toEqual(['depth']);
    expect(speaking).toEqual([true, false]);
  });

  it('[VOI10] is silent from the moment it is muted, and speaks again when unmuted', async () => {
    const { speech, speaking, silent, announcer } = setUp();
    const done = announcer.announce({ priority: 'cue', segments: ['next', 'guide pin'] });
    announcer.mute();
    await done;
    await announcer.announce({ priority: 'hold-point', segments: ['not yet'] });
    expect(speech.said).toEqual(['next']);
    expect(speaking).toEqual([true, false]);
    announcer.unmute();
    void announcer.announce({ priority: 'cue', segments: ['curette'] });
    expect(speech.said).toEqual(['next', 'curette']);
    expect(silent).toEqual([]);
  });

  it('[VOI11] tries the next way of speaking, and reports what none can say', async () => {
    const broken: SpeechOutput = {
      speak: () => Promise.reject(new Error('damaged clip')),
      cancel: () => undefined,
    };
    const { speech, silent, speaking, announcer } = setUp(broken);
    const done = announcer.announce({ priority: 'cue', segments: ['xyz'] });
    await speech.end(false);
    await done;
    expect(silent.map(({ code, params }) => [code, params['text']])).toEqual([
      ['announcer-silent', 'xyz'],
    ]);
    expect(speaking).toEqual([true, false]);
  });
});

describe('ways of speaking', () => {
  it('[VOI11] looks clips up in their normal form', () => {
    expect(toClipKey('  Guide  Pin out ')).toBe('guide pin out');
    for (const key of Object.keys(ANNOUNCER_CLIPS)) expect(toClipKey(key)).toBe(key);
    expect(ANNOUNCER_CLIPS['guide pin on driver']).toMatch(/\.opus$/);
  });

  it('[VOI11] does not claim to speak where the browser lets no sound out, or without a clip', async () => {
    const unused = (): never => {
      throw new Error('Nothing may be fetched or played');
    };
    const platform = {
      context: {
        decodeAudioData: unused,
        createBufferSource: unused,
        resume: unused,
        destination: {} as AudioDestinationNode,
      },
      fetchBytes: unused,
    };
    const urls = new Map([['next', '/next.opus']]);
    const refused = new ClipSpeech(urls, { ...platform, isAllowedToPlay: () => false });
    const allowed = new ClipSpeech(urls, { ...platform, isAllowedToPlay: () => true });
    expect(await refused.speak('next')).toBe(false);
    expect(await allowed.speak('unheard of')).toBe(false);
  });

  it('[VOI11] speaks with a voice of this machine only', async () => {
    const spoken: string[] = [];
    const voice = (localService: boolean, lang: string) =>
      ({ localService, lang }) as SpeechSynthesisVoice;
    const make = (voices: SpeechSynthesisVoice[]) =>
      new PlatformSpeech({
        synthesis: {
          getVoices: () => voices,
          cancel: () => undefined,
          speak: (utterance) => {
            spoken.push(`${utterance.lang}: ${utterance.text}`);
            utterance.onend?.({} as SpeechSynthesisEvent);
          },
        },
        createUtterance: (text) => ({ text }) as SpeechSynthesisUtterance,
      });
    expect(await make([voice(false, 'en-GB'), voice(true, 'de-DE')]).speak('next')).toBe(false);
    expect(await make([voice(false, 'en-US'), voice(true, 'en-GB')]).speak('next')).toBe(true);
    expect(spoken).toEqual(['en-GB: next']);
  });
});
