/** What the voice screen asks for, answered by the kept settings and the sound of this window. */
import type { VoiceServices } from '../../ui';
import {
  ADDRESS_STUDY, browserRecogniser, checkOnDevice, findAddressFault, installOnDevice, LANGUAGES,
  listOfferedAddresses, MEASURED_ADDRESSES,
} from '../../voice'; // prettier-ignore
import type { KeptVoiceSettings } from './kept-voice-settings';
import type { Sound } from './sound';

export function createVoiceServices(settings: KeptVoiceSettings, sound: Sound): VoiceServices {
  return {
    settings: () => settings.current,
    onChange: (callback) => settings.watch(callback),
    change: (change) => settings.change(change),
    addresses: listOfferedAddresses().map((measured) => ({ ...measured, ...ADDRESS_STUDY })),
    failedAddresses: MEASURED_ADDRESSES.flatMap((measured) => {
      const fault = findAddressFault(measured);
      return fault ? [{ address: measured.address, fault }] : [];
    }),
    otherLanguages: LANGUAGES.slice(1).map(({ tag, addressPhrase }) => ({ tag, addressPhrase })),
    browserRecogniser: () => checkOnDevice(browserRecogniser(), LANGUAGES[0].tag),
    installBrowserRecogniser: () => installOnDevice(browserRecogniser(), LANGUAGES[0].tag),
    sayExample: () => {
      sound.sayExample();
    },
  };
}
