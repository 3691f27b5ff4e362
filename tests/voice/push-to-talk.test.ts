import { describe, expect, it } from 'vitest';
import { PushToTalk } from '../../src/voice';
import { HandClock } from '../support/hand-clock';

function setUp() {
  const clock = new HandClock();
  const changes: boolean[] = [];
  const talk = new PushToTalk(
    clock,
    () => clock.monoMs(),
    (isOpen) => changes.push(isOpen),
  );
  return { clock, changes, talk };
}

describe('push to talk', () => {
  it('[VOI45] opens while the key is held, and shuts a little after it', () => {
    const { clock, changes, talk } = setUp();
    expect(talk.isOpen).toBe(false);
    talk.press();
    clock.advance(6_000);
    expect(changes).toEqual([true]);
    talk.release();
    // The listener decides 600 ms after the last word (VOI6): a word said until the release is heard.
    clock.advance(601);
    expect(talk.isOpen).toBe(true);
    clock.advance(10_000);
    expect(changes).toEqual([true, false]);
  });

  it('[VOI45] opens for one command after a short press', () => {
    const { clock, changes, talk } = setUp();
    talk.press();
    clock.advance(100);
    talk.release();
    clock.advance(3_000);
    expect(talk.isOpen).toBe(true);
    talk.takeCommand();
    clock.advance(0);
    expect(changes).toEqual([true, false]);
  });

  it('[VOI45] goes on with the next command while the key is held', () => {
    const { clock, talk } = setUp();
    talk.press();
    clock.advance(2_000);
    talk.takeCommand();
    clock.advance(1_000);
    expect(talk.isOpen).toBe(true);
  });

  it('[VOI45] shuts by itself where the release is never seen, and can be pressed again', () => {
    const { clock, changes, talk } = setUp();
    talk.press();
    clock.advance(60_000);
    expect(talk.isOpen).toBe(false);
    talk.release();
    expect(changes).toEqual([true, false]);
    talk.press();
    expect(talk.isOpen).toBe(true);
  });

  it('[VOI45] a release without a press, as from a window that was left, changes nothing', () => {
    const { changes, talk } = setUp();
    talk.release();
    talk.takeCommand();
    expect(changes).toEqual([]);
  });
});
