import { describe, expect, it } from 'vitest';
import type { HeardPhrase } from '../../src/domain';
import { Hearing } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { hiss, join, vocabularyOf } from './real-listener';

/** A listener that says what it is told to, and keeps what it was asked. */
class ScriptedListener implements Listener {
  readonly name = 'scripted';
  readonly askedMs: number[] = [];
  answers: (string | null)[] = [];
  /** What is not made out was talk. */
  hearsTalk = false;
  decisionMs = 40;
  async setVocabulary(): Promise<[]> {
    return [];
  }
  async recognise(pcm: Float32Array): Promise<HeardPhrase> {
    this.askedMs.push(pcm.length / 16);
    const words = this.answers.shift() ?? null;
    return {
      words,
      score: 0.9,
      listener: this.name,
      speechMs: 0,
      decisionMs: this.decisionMs,
      ...(words === null && this.hearsTalk && { isTalk: true }),
    };
  }
  async close(): Promise<void> {
    this.answers = [];
  }
}

function tone(ms: number): Float32Array {
  return Float32Array.from(
    { length: ms * 16 },
    (_, i) => 0.2 * Math.sin((2 * Math.PI * 400 * i) / 16_000),
  );
}

async function setUp(answers: (string | null)[], phrases = ['depth two four', 'step done']) {
  const listener = new ScriptedListener();
  listener.answers = answers;
  const heard: HeardPhrase[] = [];
  const isHearing: boolean[] = [];
  const levels: number[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: (phrase) => heard.push(phrase),
    onHearing: (is) => isHearing.push(is),
    onLevel: (levelDb) => levels.push(levelDb),
  });
  await hearing.setVocabulary(vocabularyOf(phrases));
  return { listener, hearing, heard, isHearing, levels };
}

describe('hearing', () => {
  it('[VOI107] says what was talk, also of what goes on too long to be a command', async () => {
    const { listener, hearing, heard } = await setUp([]);
    listener.hearsTalk = true;
    await hearing.push(join(hiss(500), tone(800), hiss(1500)));
    expect(heard).toMatchObject([{ words: null, isTalk: true }]);
    // A steady sound would be the room's.
    const endless = Array.from({ length: 25 }, () => [tone(250), hiss(50)]).flat();
    await hearing.push(join(...endless));
    expect(heard.slice(1)).toMatchObject([{ words: null, isTalk: true }]);
    await hearing.push(hiss(2500));
    listener.answers = ['step done'];
    await hearing.push(join(tone(800), hiss(1500)));
    expect(heard.at(-1)).toMatchObject({ words: 'step done' });
    expect(heard.at(-1)).not.toHaveProperty('isTalk');
  });

  it('[VOI46] hears nothing while it is shut, nor what began before it was opened', async () => {
    const { listener, hearing, heard, isHearing } = await setUp(['step done', 'step done']);
    const open = vocabularyOf(['step done'], '');
    await hearing.setVocabulary({ ...open, isShut: true });
    await hearing.push(join(hiss(500), tone(800), hiss(900), tone(500)));
    await hearing.setVocabulary(open);
    await hearing.push(join(hiss(900)));
    expect(heard).toEqual([]);
    expect(listener.askedMs).toEqual([]);
    expect(isHearing).not.toContain(true);
  });

  it('[VOI46] hears a word that follows the press at once, and gives up what is unfinished when shut', async () => {
    const { hearing, heard } = await setUp(['step done', 'step done']);
    const open = vocabularyOf(['step done'], '');
    await hearing.setVocabulary({ ...open, isShut: true });
    await hearing.push(hiss(2_000));
    await hearing.setVocabulary(open);
    await hearing.push(join(tone(800), hiss(900)));
    expect(heard.map(({ words }) => words)).toEqual(['step done']);
    await hearing.push(tone(800));
    await hearing.setVocabulary({ ...open, isShut: true });
    await hearing.push(hiss(900));
    expect(heard).toHaveLength(1);
  });

  it('[VOI6] takes a whole phrase 200 ms after the speech, without waiting for the long silence', async () => {
    const { hearing, heard } = await setUp(['step done']);
    await hearing.push(join(hiss(500), tone(800), hiss(300)));
    expect(heard).toMatchObject([{ words: 'step done', decisionMs: 200 }]);
  });

  it('[VOI6] counts slow work into the time of the decision', async () => {
    const { listener, hearing, heard } = await setUp(['step done']);
    listener.decisionMs = 150;
    await hearing.push(join(hiss(500), tone(800), hiss(300)));
    expect(heard[0]?.decisionMs).toBe(250);
  });

  it('[VOI6] waits for more where nothing was made out yet', async () => {
    const { listener, hearing, heard } = await setUp([null, 'depth two four']);
    await hearing.push(join(hiss(500), tone(700), hiss(400), tone(300), hiss(300)));
    expect(heard.map(({ words }) => words)).toEqual(['depth two four']);
    expect(listener.askedMs).toHaveLength(2);
  });

  it('[VOI6] waits for more where the phrase may go on', async () => {
    const phrases = ['direction ten', 'direction ten thirty'];
    const { hearing, heard } = await setUp(['direction ten', 'direction ten thirty'], phrases);
    await hearing.push(join(hiss(500), tone(700), hiss(400), tone(300), hiss(300)));
    expect(heard.map(({ words }) => words)).toEqual(['direction ten thirty']);
  });

  it('[VOI6] says after the long silence that nothing was understood', async () => {
    const { hearing, heard, isHearing } = await setUp([null]);
    await hearing.push(join(hiss(500), tone(700), hiss(900)));
    expect(heard).toMatchObject([{ words: null, decisionMs: 640 }]);
    expect(isHearing).toEqual([true, false]);
  });

  it('[VOI4] asks again with a vocabulary that changed during the utterance', async () => {
    const { hearing, heard } = await setUp(['step done', 'depth two four']);
    await hearing.push(join(hiss(500), tone(700), hiss(170)));
    await hearing.setVocabulary(vocabularyOf(['depth two four']));
    await hearing.push(hiss(900));
    expect(heard.map(({ words }) => words)).toEqual(['depth two four']);
  });

  it('[VOI7] hears nothing while the wall speaks nor in the echo after it', async () => {
    const { hearing, heard, listener } = await setUp(['step done', 'step done']);
    await hearing.push(hiss(500));
    hearing.gate(true);
    await hearing.push(tone(1000));
    hearing.gate(false);
    await hearing.push(join(tone(200), hiss(900)));
    expect(listener.askedMs).toEqual([]);
    await hearing.push(join(tone(700), hiss(900)));
    expect(heard.map(({ words }) => words)).toEqual(['step done']);
  });

  it('[VOI7] gives up an utterance that the wall talks over', async () => {
    const { hearing, heard, isHearing } = await setUp(['step done']);
    await hearing.push(join(hiss(500), tone(700)));
    hearing.gate(true);
    hearing.gate(false);
    await hearing.push(hiss(1000));
    expect(heard).toEqual([]);
    expect(isHearing).toEqual([true, false]);
  });

  it('[VOI8] reads the level four times a second', async () => {
    const { hearing, levels } = await setUp([]);
    await hearing.push(tone(1000));
    expect(levels).toHaveLength(4);
    // A sine of amplitude 0.2 has an RMS of 0.2 / √2: -17 dB of full scale.
    expect(levels[1]).toBeCloseTo(20 * Math.log10(0.2 / Math.SQRT2), 1);
  });

  it('[VOI5] does not care how the sound is cut into pieces', async () => {
    const sound = join(hiss(500), tone(800), hiss(900));
    const whole = await setUp(['step done']);
    await whole.hearing.push(sound);
    const pieces = await setUp(['step done']);
    for (let from = 0; from < sound.length; from += 333)
      await pieces.hearing.push(sound.slice(from, from + 333));
    expect(pieces.heard).toEqual(whole.heard);
    expect(pieces.listener.askedMs).toEqual(whole.listener.askedMs);
  });

  const CANCELLED = { isEchoCancelled: true, texts: ['Depth', 'two four'] };
  /** Somebody has spoken before, so that the level of people is known. */
  const SPOKEN_BEFORE = join(hiss(2500), tone(700), hiss(1000));

  it('[EAR8] hears a whole phrase over the wall, where its echo is cancelled', async () => {
    const { hearing, heard } = await setUp([null, null, 'step done']);
    await hearing.push(SPOKEN_BEFORE);
    hearing.gate(true, CANCELLED);
    await hearing.push(join(hiss(500), tone(700), hiss(900)));
    expect(heard.map(({ words }) => words)).toEqual([null, 'step done']);
  });

  it('[EAR8] hears nobody over the wall without echo cancellation, or before anybody spoke', async () => {
    const without = await setUp([null, null, 'step done']);
    await without.hearing.push(SPOKEN_BEFORE);
    without.hearing.gate(true, { ...CANCELLED, isEchoCancelled: false });
    await without.hearing.push(join(hiss(500), tone(700), hiss(900)));
    // Once at the pause and once at the end of what was said before.
    expect(without.listener.askedMs).toHaveLength(2);
    const before = await setUp(['step done']);
    before.hearing.gate(true, CANCELLED);
    await before.hearing.push(join(hiss(500), tone(700), hiss(900)));
    expect(before.listener.askedMs).toEqual([]);
  });

  it('[EAR9] takes what is left of the echo for nobody', async () => {
    const { hearing, listener } = await setUp([null, null, 'step done']);
    await hearing.push(SPOKEN_BEFORE);
    hearing.gate(true, CANCELLED);
    // 20 dB below the person.
    const echo = tone(700).map((x) => x / 10);
    await hearing.push(join(hiss(500), echo, hiss(200)));
    hearing.gate(false);
    await hearing.push(join(echo.slice(0, 3_200), hiss(900)));
    expect(listener.askedMs).toHaveLength(2);
  });

  it('[EAR9] takes no words that the wall is saying, and reports no failure to understand itself', async () => {
    const { hearing, heard } = await setUp([null, null, 'depth two four', null, null]);
    await hearing.push(SPOKEN_BEFORE);
    hearing.gate(true, CANCELLED);
    await hearing.push(join(hiss(500), tone(700), hiss(900), tone(700), hiss(900)));
    expect(heard).toHaveLength(1);
    hearing.gate(false);
    await hearing.push(hiss(500));
  });
});
