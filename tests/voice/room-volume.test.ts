import { describe, expect, it } from 'vitest';
import { VOLUMES } from '../../src/domain';
import { LOUDEST_GAIN_DB, RoomVolume } from '../../src/voice';

/** So many seconds of a room, four readings each. */
function hearRoom(volume: RoomVolume, levelDb: number, seconds: number, isSpeaking = false): void {
  for (let reading = 0; reading < seconds * 4; reading += 1) volume.hear(levelDb, isSpeaking);
}

describe('the volume', () => {
  it('[VOI44] keeps its base in a quiet room, and rises in a loud one within limits', () => {
    const volume = new RoomVolume();
    const base = volume.gainDb;
    hearRoom(volume, -70, 60);
    expect(volume.gainDb).toBe(base);
    hearRoom(volume, -45, 60);
    const some = volume.gainDb;
    expect(some).toBeGreaterThan(base);
    hearRoom(volume, 0, 600);
    expect(volume.gainDb).toBeGreaterThan(some);
    // Recordings peak 6 dB below full scale (src/cli/make-clips.ts): more would clip them.
    for (const choice of VOLUMES) {
      volume.base = choice;
      expect(volume.gainDb).toBeLessThanOrEqual(6);
    }
    expect(LOUDEST_GAIN_DB).toBe(6);
  });

  it('[VOI44] follows slowly, and comes back', () => {
    const volume = new RoomVolume();
    hearRoom(volume, -70, 10);
    const base = volume.gainDb;
    hearRoom(volume, -35, 8);
    volume.hear(-35, false);
    expect(volume.gainDb - base).toBeGreaterThan(0);
    expect(volume.gainDb - base).toBeLessThanOrEqual(2);
    hearRoom(volume, -35, 60);
    hearRoom(volume, -70, 120);
    expect(volume.gainDb).toBe(base);
  });

  it('[VOI44] takes neither talk nor its own voice for the room', () => {
    const volume = new RoomVolume();
    const base = volume.gainDb;
    for (let second = 0; second < 120; second += 1) {
      // A pause of a quarter of a second in every four seconds of talk.
      hearRoom(volume, -25, 2);
      volume.hear(-65, false);
      hearRoom(volume, -25, 2);
      hearRoom(volume, -10, 2, true);
    }
    expect(volume.gainDb).toBe(base);
  });

  it('[VOI44] is louder or softer as the team sets it', () => {
    const volume = new RoomVolume();
    const gains = VOLUMES.map((choice) => {
      volume.base = choice;
      return volume.gainDb;
    });
    expect(gains).toEqual(gains.toSorted((a, b) => a - b));
    expect(new Set(gains).size).toBe(VOLUMES.length);
  });
});
