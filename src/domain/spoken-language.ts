/** Which language people speak to the wall, by its BCP 47 tag, and what it is called in English. */

/** The product's own: its screens, its voice, and whatever no voice card says otherwise. */
export const OWN_LANGUAGE = 'en-GB';

const ENGLISH_NAMES = new Intl.DisplayNames(OWN_LANGUAGE, { type: 'language' });

/** A language by its English name without its country: "French" for "fr-FR"; what is no tag, as it is written. */
export function languageToText(tag: string): string {
  try {
    return ENGLISH_NAMES.of(new Intl.Locale(tag).language) ?? tag;
  } catch {
    // A record from elsewhere may say anything here; it is shown all the same.
    return tag;
  }
}
