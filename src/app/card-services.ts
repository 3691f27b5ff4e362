/** What the screens about voice cards ask for, answered by the shelf of this machine. */
import { fault } from '../domain';
import type { Fault } from '../domain';
import type { CardServices } from '../ui';
import { cardToText, languageOf, LANGUAGES } from '../voice';
import type { CardShelf } from './card-shelf';
import type { KeptVoiceSettings } from './kept-voice-settings';
import { saveFile } from './save-file';

export interface CardParts {
  readonly shelf: CardShelf;
  readonly settings: KeptVoiceSettings;
  /** While the record is locked no sound of a person leaves as a file. */
  readonly isLocked: () => Promise<boolean>;
}

export function createCardServices({ shelf, settings, isLocked }: CardParts): CardServices {
  return {
    list: () => shelf.list(),
    save: async (id): Promise<Fault | null> => {
      if (await isLocked()) return fault('record-locked');
      const read = await shelf.read(id);
      if (!read.ok) return read.error;
      const { label, version } = read.value;
      const name = `voice-card-${label.replace(/[^\p{L}\p{N}]+/gu, '-')}-v${version}.json`;
      saveFile(name, 'application/json', await cardToText(read.value));
      return null;
    },
    bring: (text) => shelf.bring(text),
    remove: (id) => shelf.remove(id),
    whyUnfit: ({ language, addressPhrase, fault: why }) => {
      if (why) return 'can’t be read';
      const { addressPhrase: chosen, talkKey } = settings.current;
      const said = addressOf(language, talkKey === null ? chosen : '');
      if (addressPhrase === said) return null;
      return addressPhrase === ''
        ? 'made without an address phrase'
        : `made for “${addressPhrase} …”`;
    },
  };
}

/** What one says first in a language, where the wall is set to an address phrase of the product's own language. */
export function addressOf(language: string, chosen: string): string {
  const isOwn = languageOf(language) === LANGUAGES[0];
  return chosen === '' || isOwn ? chosen : languageOf(language).addressPhrase;
}
