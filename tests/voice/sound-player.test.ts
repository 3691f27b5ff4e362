import { describe, expect, it } from 'vitest';
import { SoundPlayer } from '../../src/voice/speaking/sound-player';
import type { PlayerPlatform } from '../../src/voice/speaking/sound-player';

/** A node that ends when it is told to, as Web Audio's do some time after `stop`. */
class HandNode {
  onended: () => void = () => undefined;
  stoppedAt: number | null = null;
  connect<T>(to: T): T {
    return to;
  }
  start(): void {
    // Plays until it is ended by hand.
  }
  stop(atS: number): void {
    this.stoppedAt = atS;
  }
}

function setUp() {
  const nodes: HandNode[] = [];
  const fades: number[] = [];
  const context = {
    currentTime: 5,
    sampleRate: 48_000,
    destination: {},
    resume: async () => undefined,
    createBufferSource: () => {
      const node = new HandNode();
      nodes.push(node);
      return node;
    },
    createGain: () => ({
      gain: { value: 1, setTargetAtTime: (to: number) => fades.push(to) },
      connect: () => undefined,
    }),
  } as unknown as PlayerPlatform['context'];
  const player = new SoundPlayer({ context, isAllowedToPlay: () => true, gainDb: () => 0 });
  const play = async (): Promise<{ node: HandNode; ended: Promise<void> }> => {
    const ended = player.play({} as AudioBuffer);
    await Promise.resolve();
    const node = nodes.at(-1);
    if (!node) throw new Error('Nothing plays');
    return { node, ended };
  };
  return { player, play, fades };
}

describe('sound player', () => {
  it('[VOI76] cuts a sound that began while the one before it was still fading', async () => {
    const { player, play, fades } = setUp();
    const first = await play();
    player.cancel();
    expect(first.node.stoppedAt).toBeGreaterThan(5);
    const second = await play();
    first.node.onended();
    await first.ended;
    expect(second.node.stoppedAt).toBeNull();
    player.cancel();
    expect(second.node.stoppedAt).toBeGreaterThan(5);
    expect(fades).toEqual([0, 0]);
  });

  it('[VOI76] has nothing to cut after the end of a sound', async () => {
    const { player, play, fades } = setUp();
    const { node, ended } = await play();
    node.onended();
    await ended;
    player.cancel();
    expect([node.stoppedAt, fades]).toEqual([null, []]);
  });
});
