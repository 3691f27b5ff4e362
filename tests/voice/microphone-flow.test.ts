/** Events and states: Media Capture and Streams, and Web Audio API, W3C. */
import { describe, expect, it } from 'vitest';
import type { Fault } from '../../src/domain';
import { BrowserMicrophone, watchFlow } from '../../src/voice';

class HandTrack extends EventTarget {
  muted = false;
  label = 'Example microphone';
  mute(muted: boolean): void {
    this.muted = muted;
    this.dispatchEvent(new Event(muted ? 'mute' : 'unmute'));
  }
}

class HandContext extends EventTarget {
  state = 'running';
  resumed = 0;
  /** Whether it goes on when asked. */
  isWilling = false;
  async resume(): Promise<void> {
    this.resumed += 1;
    if (this.isWilling) this.become('running');
  }
  become(state: string): void {
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }
}

function setUp() {
  const track = new HandTrack();
  const context = new HandContext();
  const told: (string | null)[] = [];
  let press: () => void = () => undefined;
  const stop = watchFlow(
    track as unknown as MediaStreamTrack,
    context as unknown as AudioContext,
    (callback) => {
      press = callback;
      return () => undefined;
    },
    (why: Fault | null) => told.push(why?.code ?? null),
  );
  return { track, context, told, stop, press: () => press() };
}

describe('the flow of sound', () => {
  it('[EAR2] tells of a muted track, once, and of its return', () => {
    const { track, context, told } = setUp();
    track.mute(true);
    context.become('running');
    track.mute(false);
    expect(told).toEqual(['microphone-muted', null]);
  });

  it.each(['suspended', 'interrupted'])(
    '[EAR2] asks a context that is %s to go on, again when somebody presses something',
    (state) => {
      const { context, told, press } = setUp();
      context.become(state);
      expect(context.resumed).toBe(1);
      context.isWilling = true;
      press();
      expect(context.resumed).toBe(2);
      expect(told).toEqual(['microphone-suspended', null]);
    },
  );

  it('[EAR2] tells nothing after it was ended', () => {
    const { track, told, stop } = setUp();
    stop();
    track.mute(true);
    expect(told).toEqual([]);
  });
});

describe('a microphone that is waited for', () => {
  it('[EAR1] is told once, when one is there', async () => {
    let devices: string[] = ['audiooutput'];
    const watchers = new Set<() => void>();
    const microphone = new BrowserMicrophone({
      getUserMedia: () => Promise.reject(new Error('Not reached')),
      createContext: () => {
        throw new Error('Not reached');
      },
      captureUrl: async () => '',
      wait: async () => undefined,
      watchGestures: () => () => undefined,
      listDevices: async () => devices.map((kind) => ({ kind }) as MediaDeviceInfo),
      watchPermission: () => () => undefined,
      watchDevices: (callback) => {
        watchers.add(callback);
        return () => watchers.delete(callback);
      },
    });
    let told = 0;
    microphone.whenPresent(() => (told += 1));
    const change = async (): Promise<void> => {
      for (const watcher of watchers) watcher();
      await new Promise((resolve) => setImmediate(resolve));
    };
    await change();
    expect(told).toBe(0);
    devices = ['audioinput'];
    await change();
    await change();
    expect(told).toBe(1);
  });
});
