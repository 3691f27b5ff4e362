import { describe, expect, it } from 'vitest';
import { canBeTalkKey, err, fault, ok } from '../../src/domain';
import { KEYS } from '../../src/ui/parts/keys';
import { KeptVoiceSettings, readVoiceSettings } from '../../src/app/voice/kept-voice-settings';
import { attachTalkKey } from '../../src/app/voice/talk-key';
import {
  ADDRESS_STUDY, findAddressFault, listOfferedAddresses, MEASURED_ADDRESSES,
} from '../../src/voice'; // prettier-ignore

/** Two windows' ends of one channel. */
function createChannels() {
  const ends = [new EventTarget(), new EventTarget()] as const;
  const make = (own: EventTarget, other: EventTarget) =>
    ({
      postMessage: (data: unknown) => other.dispatchEvent(new MessageEvent('message', { data })),
      addEventListener: own.addEventListener.bind(own),
    }) as unknown as BroadcastChannel;
  return [make(ends[0], ends[1]), make(ends[1], ends[0])] as const;
}

function createSettings(isBroken = false) {
  const kept = new Map<string, unknown>();
  const disk = { isReadable: true };
  return {
    kept,
    disk,
    read: (name: string) =>
      Promise.resolve(
        disk.isReadable
          ? ok(kept.get(name))
          : err(fault('record-unavailable', { detail: 'no answer' })),
      ),
    write: (name: string, value: unknown) => {
      if (isBroken) return Promise.resolve(err(fault('record-unavailable', { detail: 'full' })));
      kept.set(name, value);
      return Promise.resolve(ok(undefined));
    },
  };
}

describe('voice settings', () => {
  it('[VOI47] are kept, and count in every window at once', async () => {
    const [here, there] = createChannels();
    const disk = createSettings();
    const [one, other] = [new KeptVoiceSettings(disk, here), new KeptVoiceSettings(disk, there)];
    await one.load();
    expect(await one.change({ volume: 'soft', talkKey: 'F8' })).toBeNull();
    expect(other.current).toEqual({ ...one.current, volume: 'soft', talkKey: 'F8' });
    const later = new KeptVoiceSettings(disk, there);
    await later.load();
    expect(later.current).toEqual(one.current);
  });

  it('[VOI47] count although they could not be kept, and say so', async () => {
    const settings = new KeptVoiceSettings(createSettings(true), createChannels()[0]);
    expect((await settings.change({ volume: 'loud' }))?.code).toBe('record-unavailable');
    expect(settings.current.volume).toBe('loud');
  });

  it('[VOI69] that could not be read are told, and are not overwritten by the usual ones', async () => {
    const [here, there] = createChannels();
    const settings = createSettings();
    const before = { volume: 'soft', talkKey: 'F8' };
    settings.kept.set('voice', before);
    const other = new KeptVoiceSettings(settings, there);
    await other.load();
    settings.disk.isReadable = false;
    const one = new KeptVoiceSettings(settings, here);
    expect((await one.load())?.code).toBe('settings-not-read');
    expect(one.current.talkKey).toBeNull();
    expect((await one.change({ volume: 'loud' }))?.code).toBe('settings-not-read');
    expect(one.current.volume).toBe('loud');
    expect(settings.kept.get('voice')).toBe(before);
    // A window that knows what is kept takes the change and nothing else.
    expect(other.current).toMatchObject({ volume: 'loud', talkKey: 'F8' });
    // Once it can be read, the changes go on top of what was kept.
    settings.disk.isReadable = true;
    expect(await one.change({ hasBrowserRecogniser: true })).toBeNull();
    const all = { volume: 'loud', talkKey: 'F8', hasBrowserRecogniser: true };
    expect(settings.kept.get('voice')).toEqual(all);
    expect(one.current).toMatchObject(all);
  });

  it.each([
    ['nothing', undefined],
    ['text', 'loud'],
    ['a phrase that is not offered', { addressPhrase: 'notice board' }],
    ['a key with another use', { talkKey: 'Enter' }],
    ['a volume that does not exist', { volume: 11 }],
  ])('[VOI47] fall back to the safe ones where %s was kept', (_, value) => {
    expect(readVoiceSettings(value)).toEqual({
      volume: 'normal',
      addressPhrase: 'theatre wall',
      talkKey: null,
      hasBrowserRecogniser: false,
    });
  });

  it('[VOI47] take no key that the desk uses, nor one that types', () => {
    for (const key of [...Object.values(KEYS), 'PageDown', 'PageUp', 'a', '4', ' ', 'Tab', 'F5'])
      expect(canBeTalkKey(key)).toBe(false);
    expect(canBeTalkKey('F13')).toBe(true);
  });
});

describe('the address phrases on offer', () => {
  it('[VOI48] met the aims: missed little, and no more false activations than the aim allows by chance', () => {
    const offered = listOfferedAddresses();
    expect(offered[0]?.address).toBe('theatre wall');
    expect(offered.length).toBeLessThan(MEASURED_ADDRESSES.length);
    for (const measured of MEASURED_ADDRESSES) {
      const { right, falseActivations } = measured;
      // The project's aims for unknown speakers: 97 % in a quiet room, 90 % at 10 dB, fewer
      // than 0.1 activations an hour (refuted where so many come in 1 of 20 studies or fewer).
      const meets =
        right.quiet / ADDRESS_STUDY.said >= 0.97 &&
        right.noise / ADDRESS_STUDY.said >= 0.9 &&
        chanceOfAtLeast(falseActivations, (0.1 * ADDRESS_STUDY.talkMinutes) / 60) > 0.05;
      expect(offered.includes(measured), measured.address).toBe(meets);
      expect(findAddressFault(measured) === null).toBe(meets);
    }
  });

  it('[VOI48] is refused by the first aim it fails', () => {
    const [good] = listOfferedAddresses();
    if (!good) throw new Error('none is offered');
    const spoilt = (change: Partial<typeof good.right>, falseActivations = 0) =>
      findAddressFault({ ...good, right: { ...good.right, ...change }, falseActivations });
    expect(spoilt({ quiet: 93 })).toBe('missed');
    expect(spoilt({ noise: 86 })).toBe('missed-in-noise');
    expect(spoilt({}, 2)).toBe('heard-in-talk');
    expect(spoilt({ quiet: 94, noise: 87 })).toBeNull();
  });
});

/** Of a Poisson count with this mean. */
function chanceOfAtLeast(count: number, mean: number): number {
  let [term, below] = [Math.exp(-mean), 0];
  for (let events = 0; events < count; events += 1) {
    below += term;
    term *= mean / (events + 1);
  }
  return 1 - below;
}

describe('the talk key', () => {
  it('[VOI45] opens the ear from any window, once for a key held down, and lets go with the window', () => {
    const [here, there] = createChannels();
    const told: string[] = [];
    const ear = (name: string) => ({
      press: () => told.push(`${name} press`),
      release: () => told.push(`${name} release`),
    });
    const settings = () =>
      ({
        volume: 'normal',
        addressPhrase: '',
        talkKey: 'F8',
        hasBrowserRecogniser: false,
      }) as const;
    const [desk, wall] = [new EventTarget(), new EventTarget()];
    const key = (type: string, name: string, repeat = false) =>
      Object.assign(new Event(type, { cancelable: true }), { key: name, repeat });
    attachTalkKey(desk as Window, here, settings, ear('desk'));
    attachTalkKey(wall as Window, there, settings, ear('wall'));
    const press = key('keydown', 'F8');
    desk.dispatchEvent(press);
    desk.dispatchEvent(key('keydown', 'F8', true));
    desk.dispatchEvent(key('keydown', 'd'));
    expect(press.defaultPrevented).toBe(true);
    expect(told).toEqual(['desk press', 'wall press']);
    desk.dispatchEvent(new Event('blur'));
    expect(told.slice(2)).toEqual(['desk release', 'wall release']);
  });
});
