/** What the voice screen asks for, answered by the kept settings and the sound of this window. */
import type { VoiceServices } from '../ui';
import {
  browserRecogniser, checkOnDevice, installOnDevice, LANGUAGES,
  listOfferedAddresses, MEASURED_ADDRESSES, SAID_COMMANDS,
} from '../voice'; // prettier-ignore
import type { KeptVoiceSettings } from './kept-voice-settings';
import type { Sound } from './sound';

export function createVoiceServices(settings: KeptVoiceSettings, sound: Sound): VoiceServices {
  return {
    settings: () => settings.current,
    onChange: (callback) => settings.watch(callback),
    change: (change) => settings.change(change),
    addresses: listOfferedAddresses().map(
      ({ address, taken, falseActivations, nearest, withBoth }) => ({
        address,
        taken,
        said: SAID_COMMANDS,
        falseActivations,
        nearest: nearest.words,
        withBoth: withBoth ?? null,
      }),
    ),
    measuredCount: MEASURED_ADDRESSES.length,
    otherLanguages: LANGUAGES.slice(1).map(({ tag, addressPhrase }) => ({ tag, addressPhrase })),
    browserRecogniser: () => checkOnDevice(browserRecogniser(), LANGUAGES[0].tag),
    installBrowserRecogniser: () => installOnDevice(browserRecogniser(), LANGUAGES[0].tag),
    sayExample: () => {
      sound.sayExample();
    },
  };
}
