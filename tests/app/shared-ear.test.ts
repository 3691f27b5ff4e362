import { describe, expect, it } from 'vitest';
import { SharedEar } from '../../src/app/voice/shared-ear';
import type { EarStatus } from '../../src/ui';
import { earToText as toDesk, readingToText } from '../../src/ui/parts/ear-text';
import { earToText as toWall } from '../../src/ui/wall/wall-ear';
import { HandClock } from '../support/hand-clock';

const OFF: EarStatus = {
  state: 'off',
  fault: null,
  levelDb: null,
  reading: null,
  isGated: false,
  isShut: false,
};
const LISTENING: EarStatus = {
  ...OFF,
  state: 'listening',
  reading: { levelDb: -50, roomDb: -52, speechDb: -24, gainDb: 0, quality: 'well' },
};

class HandEar {
  status = OFF;
  stops = 0;
  #tell: () => void = () => undefined;
  onStatus(callback: () => void): () => void {
    this.#tell = callback;
    return () => undefined;
  }
  stopListening(): void {
    this.stops += 1;
    this.become(OFF);
  }
  become(status: EarStatus): void {
    this.status = status;
    this.#tell();
  }
}

/** Two windows and the air between them. */
function setUp() {
  const clock = new HandClock();
  const receivers: ((event: MessageEvent) => void)[] = [];
  const join = (own: HandEar): SharedEar => {
    const mine = receivers.length;
    return new SharedEar(
      own,
      {
        postMessage: (data: unknown) =>
          receivers.forEach(
            (receive, index) => index !== mine && receive({ data } as MessageEvent),
          ),
        addEventListener: (_: string, receive: unknown) =>
          receivers.push(receive as (event: MessageEvent) => void),
      } as never,
      clock,
    );
  };
  const [deskEar, wallEar] = [new HandEar(), new HandEar()];
  return { clock, join, deskEar, wallEar, desk: join(deskEar), wall: join(wallEar) };
}

describe('the ear of several windows', () => {
  it('[EAR10] a window that does not listen shows how the other one hears', () => {
    const { deskEar, wall } = setUp();
    let told = 0;
    wall.onStatus(() => (told += 1));
    deskEar.become(LISTENING);
    expect(wall.status).toEqual(LISTENING);
    expect(told).toBe(1);
    deskEar.become(OFF);
    expect(wall.status.state).toBe('off');
  });

  it('[EAR10] does not believe a window that fell silent while it listened, but one that is deaf', () => {
    const { clock, deskEar, wall } = setUp();
    deskEar.become(LISTENING);
    clock.advance(5_000);
    expect(wall.status.state).toBe('off');
    deskEar.become({ ...OFF, state: 'lost' });
    clock.advance(60_000);
    expect(wall.status.state).toBe('lost');
  });

  it('[EAR10] a window that is opened later learns of a microphone that is gone', () => {
    const { deskEar, join } = setUp();
    deskEar.become({ ...OFF, state: 'lost' });
    expect(join(new HandEar()).status.state).toBe('lost');
  });

  it('[EAR10] is told when the window that listens is closed, and can switch it off', () => {
    const { deskEar, desk, wall, wallEar } = setUp();
    deskEar.become({ ...OFF, state: 'lost' });
    desk.leave();
    expect(wall.status.state).toBe('off');
    deskEar.become(LISTENING);
    wall.stop();
    expect([deskEar.stops, wallEar.stops]).toEqual([1, 0]);
  });
});

describe('how well the wall hears, in words', () => {
  const of = (quality: NonNullable<EarStatus['reading']>['quality']): EarStatus => ({
    ...LISTENING,
    reading: { levelDb: -30, roomDb: -31.6, speechDb: -24, gainDb: 0, quality },
  });

  it.each([
    ['well', 'Hears well', 'listening'],
    ['loud-room', 'Hears badly: the room is loud', 'badly'],
    ['faint', 'Hears badly: speech is too faint', 'badly'],
    ['clipped', 'Hears badly: the sound is too loud', 'badly'],
    ['not-yet', 'Listening', 'listening'],
  ] as const)('[EAR10] %s: %s', (quality, words, sign) => {
    expect(toDesk(of(quality))).toBe(words);
    expect(toWall(of(quality), 'theatre wall').sign).toBe(sign);
  });

  it('[EAR10] gives the figures, and what to do', () => {
    expect(readingToText(of('well'))).toBe('Room −32 dB, speech 8 dB above it.');
    expect(readingToText(of('loud-room'))).toMatch(
      /Bring the microphone nearer, or use the keys\.$/,
    );
    expect(readingToText(OFF)).toBe('');
  });
});
