import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { CardLearning, Vocabulary } from '../../src/domain';
import { Hearing, learnAll } from '../../src/voice';
import type { Listener } from '../../src/voice';
import { hiss, join, loadFixture, vocabularyOf } from './real-listener';

/** A listener that notes what it is asked for, and learns so many sounds for each vocabulary. */
class NotingListener implements Listener {
  readonly name = 'noting';
  readonly asked: string[] = [];
  learning: CardLearning = { done: 0, total: 0 };
  async setVocabulary({ phrases }: Vocabulary) {
    this.asked.push('vocabulary');
    this.learning = { done: 0, total: phrases.length };
    return [];
  }
  async recognise() {
    this.asked.push('speech');
    return { words: null, score: 0, listener: this.name, speechMs: 0, decisionMs: 0 };
  }
  async learnSome() {
    this.asked.push('learn');
    this.learning = { ...this.learning, done: this.learning.done + 1 };
  }
  async close() {
    // Nothing to free.
  }
}

const MANY = Array.from({ length: 40 }, (_, index) => `phrase ${index}`);

function setUp() {
  const listener = new NotingListener();
  const told: CardLearning[] = [];
  const hearing = new Hearing(listener, {
    onPhrase: () => undefined,
    onHearing: () => undefined,
    onLevel: () => undefined,
    onLearning: (learning) => told.push(learning),
  });
  return { listener, told, hearing };
}

describe('learning voice cards beside hearing', () => {
  beforeEach(() => vi.useFakeTimers());
  afterEach(() => vi.useRealTimers());

  it('[CARD18] goes on a piece at a time until all is learnt, and tells how far it is', async () => {
    const { listener, told, hearing } = setUp();
    await hearing.setVocabulary(vocabularyOf(MANY));
    expect(listener.asked).toEqual(['vocabulary']);
    await vi.runAllTimersAsync();
    expect(listener.learning.done).toBe(MANY.length);
    expect(told[0]).toEqual({ done: 0, total: MANY.length });
    expect(told.at(-1)).toEqual({ done: MANY.length, total: MANY.length });
    expect(vi.getTimerCount()).toBe(0);
  });

  it('[CARD18] lets a new vocabulary and the question for a sign of life go first', async () => {
    const { listener, hearing } = setUp();
    await hearing.setVocabulary(vocabularyOf(MANY));
    // One piece begins; what comes now waits for that one alone.
    vi.advanceTimersToNextTimer();
    let isAnswered = false;
    void hearing.push(new Float32Array(0)).then(() => (isAnswered = true));
    const told = hearing.setVocabulary(vocabularyOf(['step done']));
    await told;
    expect(isAnswered).toBe(true);
    expect(listener.asked).toEqual(['vocabulary', 'learn', 'vocabulary']);
    await vi.runAllTimersAsync();
    expect(listener.learning).toEqual({ done: 1, total: 1 });
  });

  it('[CARD18] rests while somebody speaks, and goes on after', async () => {
    const { listener, hearing } = setUp();
    await hearing.setVocabulary(vocabularyOf(MANY));
    const speech = loadFixture('slt-depth-two-four');
    await hearing.push(join(hiss(500), speech.slice(0, 9_600)));
    const learntBefore = listener.learning.done;
    await vi.runAllTimersAsync();
    expect(listener.learning.done).toBe(learntBefore);
    await hearing.push(join(speech.slice(9_600), hiss(900)));
    await vi.runAllTimersAsync();
    expect(listener.asked).toContain('speech');
    expect(listener.learning.done).toBe(MANY.length);
  });

  it('[CARD18] ends with the ear, and can be done at once where nobody waits', async () => {
    const { listener, hearing } = setUp();
    await hearing.setVocabulary(vocabularyOf(MANY));
    hearing.close();
    await vi.runAllTimersAsync();
    expect(listener.learning.done).toBe(0);
    await learnAll(listener);
    expect(listener.learning.done).toBe(MANY.length);
  });
});
