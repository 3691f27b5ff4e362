import { describe, expect, it } from 'vitest';
import type { AnnouncementPriority, AnnouncementSubject, CaptureId, Fault } from '../../src/domain';
import { Announcer, ANNOUNCER_CLIPS, ClipSpeech, PlatformSpeech, toClipKey } from '../../src/voice';
import type { EarconOutput, QueuedAnnouncement, SpeechOutput } from '../../src/voice';
import { HandClock } from '../support/hand-clock';

/** Lets everything that waits for a promise go on. */
const goOn = () => new Promise((resolve) => setImmediate(resolve));

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
    await goOn();
  }
}

/** Earcons as words in brackets, over at once. */
class WrittenEarcons implements EarconOutput {
  constructor(private readonly said: string[]) {}
  play(earcon: string): Promise<boolean> {
    this.said.push(`(${earcon})`);
    return Promise.resolve(true);
  }
  cancel(): void {
    this.said.push('');
  }
}

function setUp(...others: SpeechOutput[]) {
  const speech = new HandSpeech();
  const speaking: boolean[] = [];
  const silent: Fault[] = [];
  const clock = new HandClock();
  const announcer = new Announcer(
    {
      outputs: [speech, ...others],
      earcons: new WrittenEarcons(speech.said),
      scheduler: clock,
    },
    { onSpeaking: (is) => speaking.push(is), onSilent: (fault) => silent.push(fault) },
  );
  const said = () => speech.said.filter((text) => text !== '');
  return { speech, said, speaking, silent, clock, announcer };
}

/** An announcement about something of its own, unless told otherwise. */
function saying(
  priority: AnnouncementPriority,
  segments: readonly string[],
  more: Partial<QueuedAnnouncement> = {},
): QueuedAnnouncement {
  return { priority, segments, about: about(segments.join(' ')), ...more };
}

const about = (size: string): AnnouncementSubject => ({
  kind: 'unsettled',
  captures: [size as CaptureId],
});

describe('the announcer', () => {
  it('[VOI9] speaks segments one after another and tells when it speaks', async () => {
    const { speech, speaking, announcer } = setUp();
    const done = announcer.announce(saying('cue', ['next', 'guide pin']));
    expect(speaking).toEqual([true]);
    expect(speech.said).toEqual(['next']);
    await speech.end();
    expect(speech.said).toEqual(['next', 'guide pin']);
    await speech.end();
    await done;
    expect(speaking).toEqual([true, false]);
  });

  it('[VOI9] speaks the weightiest of what waits first', async () => {
    const { speech, said, announcer } = setUp();
    void announcer.announce(saying('hold-point', ['not yet']));
    void announcer.announce(saying('cue', ['a cue']));
    void announcer.announce(saying('answer', ['an answer']));
    void announcer.announce(saying('reminder', ['a reminder']));
    void announcer.announce(saying('read-back', ['depth two four']));
    for (let i = 0; i < 5; i += 1) await speech.end();
    expect(said()).toEqual(['not yet', 'depth two four', 'a reminder', 'an answer', 'a cue']);
  });

  it('[VOI9] cuts what is outweighed at once, and says it again afterwards', async () => {
    const { speech, said, speaking, announcer } = setUp();
    void announcer.announce(saying('reminder', ['antibiotic', 'next dose due']));
    await speech.end();
    void announcer.announce(saying('hold-point', ['not yet']));
    await goOn();
    expect(said()).toEqual(['antibiotic', 'next dose due', 'not yet']);
    for (let i = 0; i < 3; i += 1) await speech.end();
    expect(said().slice(3)).toEqual(['antibiotic', 'next dose due']);
    expect(speaking).toEqual([true, false]);
  });

  it('[VOI40] says a newer announcement about the same in place of the older one', async () => {
    const { speech, said, announcer } = setUp();
    void announcer.announce(saying('hold-point', ['not yet']));
    void announcer.announce(saying('answer', ['depth two four'], { about: { kind: 'moment' } }));
    void announcer.announce(saying('answer', ['taken back'], { about: { kind: 'moment' } }));
    void announcer.announce(saying('reminder', ['dose due']), saying('reminder', ['count due']));
    for (let i = 0; i < 4; i += 1) await speech.end();
    expect(said()).toEqual(['not yet', 'dose due', 'count due', 'taken back']);
  });

  it('[VOI40] cuts in the middle of a word, at a review, what is no longer true', async () => {
    const { speech, said, speaking, announcer } = setUp();
    let isOpen = true;
    const done = announcer.announce(
      saying('read-back', ['depth', 'two four'], { isStillWanted: () => isOpen }),
      saying('cue', ['old cue'], { isStillWanted: () => isOpen }),
    );
    announcer.review();
    expect(said()).toEqual(['depth']);
    isOpen = false;
    announcer.review();
    await done;
    expect(said()).toEqual(['depth']);
    expect(speaking).toEqual([true, false]);
    expect(speech.said).toContain('');
  });

  it('[VOI40] drops before its turn what became untrue without a review', async () => {
    const { speech, said, announcer } = setUp();
    let isOpen = true;
    void announcer.announce(saying('hold-point', ['not yet']));
    void announcer.announce(saying('cue', ['old cue'], { isStillWanted: () => isOpen }));
    isOpen = false;
    await speech.end();
    expect(said()).toEqual(['not yet']);
  });

  it('[VOI10] is silent from the moment it is muted, and speaks again when unmuted', async () => {
    const { said, speaking, silent, announcer } = setUp();
    const done = announcer.announce(saying('cue', ['next', 'guide pin']));
    announcer.mute();
    await done;
    await announcer.announce(saying('hold-point', ['not yet'], { earcon: 'not-yet' }));
    expect(said()).toEqual(['next']);
    expect(speaking).toEqual([true, false]);
    announcer.unmute();
    void announcer.announce(saying('cue', ['curette']));
    expect(said()).toEqual(['next', 'curette']);
    expect(silent).toEqual([]);
  });

  it('[VOI11] tries the next way of speaking, and reports what none can say', async () => {
    const broken: SpeechOutput = {
      speak: () => Promise.reject(new Error('damaged clip')),
      cancel: () => undefined,
    };
    const { speech, silent, speaking, announcer } = setUp(broken);
    const done = announcer.announce(saying('cue', ['xyz']));
    await speech.end(false);
    await done;
    expect(silent.map(({ code, params }) => [code, params['text']])).toEqual([
      ['announcer-silent', 'xyz'],
    ]);
    expect(speaking).toEqual([true, false]);
  });

  it('[VOI41] gives up a voice that never ends, so that the ear opens again', async () => {
    const { said, speaking, silent, clock, announcer } = setUp();
    const done = announcer.announce(saying('cue', ['next', 'guide pin']));
    clock.advance(15_000);
    await goOn();
    expect(said()).toEqual(['next', 'guide pin']);
    clock.advance(15_000);
    await done;
    expect(speaking).toEqual([true, false]);
    expect(silent).toHaveLength(2);
  });

  it('[VOI42] plays an earcon before the words, or alone', async () => {
    const { speech, said, announcer } = setUp();
    const done = announcer.announce(
      saying('read-back', ['depth two four'], { earcon: 'asks' }),
      saying('answer', [], { earcon: 'taken' }),
    );
    await goOn();
    await speech.end();
    await done;
    expect(said()).toEqual(['(asks)', 'depth two four', '(taken)']);
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
    const player = { decode: unused, play: unused, cancel: unused };
    const urls = new Map([['next', '/next.opus']]);
    const make = (isAllowed: boolean) =>
      new ClipSpeech(urls, {
        player: { ...player, isAllowedToPlay: () => isAllowed },
        fetchBytes: unused,
      });
    const [refused, allowed] = [make(false), make(true)];
    expect(await refused.speak('next')).toBe(false);
    expect(await allowed.speak('unheard of')).toBe(false);
  });

  it('[VOI43] puts a text without a clip together from the clips of its words, digits above all', async () => {
    const played: string[] = [];
    const clips = new ClipSpeech(
      new Map(Object.entries(ANNOUNCER_CLIPS).map(([text, file]) => [text, file])),
      {
        player: {
          isAllowedToPlay: () => true,
          decode: (bytes) => Promise.resolve(new TextDecoder().decode(bytes) as never),
          play: (buffer) => {
            played.push(String(buffer));
            return Promise.resolve();
          },
          cancel: () => undefined,
        },
        fetchBytes: (url) => Promise.resolve(new TextEncoder().encode(url).buffer),
      },
    );
    const digits = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];
    expect(await clips.speak(digits.join(' '))).toBe(true);
    expect(played).toEqual(digits.map((digit) => ANNOUNCER_CLIPS[digit]));
    expect(await clips.speak('one unheard-of')).toBe(false);
    expect(played).toHaveLength(10);
  });

  it('[VOI11] speaks with a voice of this machine only', async () => {
    const spoken: string[] = [];
    const clock = new HandClock();
    let tellVoices: () => void = () => undefined;
    const voice = (localService: boolean, lang: string) =>
      ({ localService, lang }) as SpeechSynthesisVoice;
    const make = (voices: SpeechSynthesisVoice[]) =>
      new PlatformSpeech({
        synthesis: {
          getVoices: () => voices,
          cancel: () => undefined,
          addEventListener: (_: string, callback: unknown) => {
            tellVoices = callback as () => void;
          },
          removeEventListener: () => undefined,
          speak: (utterance) => {
            spoken.push(`${utterance.lang}: ${utterance.text}`);
            utterance.onend?.({} as SpeechSynthesisEvent);
          },
        },
        createUtterance: (text) => ({ text }) as SpeechSynthesisUtterance,
        volume: () => 1,
        scheduler: clock,
      });
    expect(await make([voice(false, 'en-GB'), voice(true, 'de-DE')]).speak('next')).toBe(false);
    expect(await make([voice(false, 'en-US'), voice(true, 'en-GB')]).speak('next')).toBe(true);
    expect(spoken).toEqual(['en-GB: next']);

    // Chromium has no voices at first and tells when it has found them (Web Speech API, voiceschanged).
    const found: SpeechSynthesisVoice[] = [];
    const late = make(found);
    const [cut, said] = [late.speak('too late'), (late.cancel(), late.speak('found'))];
    found.push(voice(true, 'en-GB'));
    tellVoices();
    expect([await cut, await said]).toEqual([true, true]);
    expect(spoken).toEqual(['en-GB: next', 'en-GB: found']);
    const none = make([]).speak('never');
    clock.advance(2_000);
    expect(await none).toBe(false);
  });
});
