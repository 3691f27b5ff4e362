/**
 * What is spoken in which language, in words. Screens, read-backs and the wall's own voice
 * are English; only what people say to the wall may be another language (voice cards).
 */
const SCREEN_LANGUAGE = 'en';
const ENGLISH_NAMES = new Intl.DisplayNames('en-GB', { type: 'language' });

/** A language by its English name without its country: "French" for the BCP 47 tag "fr-FR". */
export function languageToText(tag: string): string {
  return ENGLISH_NAMES.of(toLanguage(tag)) ?? tag;
}

/** Who speaks what where people speak something else than the wall; null where all speak English. */
export function spokenToText(tag: string | undefined): string | null {
  if (tag === undefined || toLanguage(tag) === SCREEN_LANGUAGE) return null;
  return (
    `People speak ${languageToText(tag)} to the wall. It shows and speaks English, ` +
    'read-backs included: whoever confirms must understand them.'
  );
}

function toLanguage(tag: string): string {
  return tag.split('-')[0] ?? tag;
}
