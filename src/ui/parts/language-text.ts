/**
 * What is spoken in which language, in words. Screens, read-backs and the wall's own voice
 * are English; only what people say to the wall may be another language (voice cards).
 */
import { languageToText, OWN_LANGUAGE } from '../../domain';

/** Who speaks what where people speak something else than the wall; null where all speak English. */
export function spokenToText(tag: string | undefined): string | null {
  if (tag === undefined || tag === OWN_LANGUAGE) return null;
  return (
    `People speak ${languageToText(tag)} to the wall. It shows and speaks English, ` +
    'read-backs included: whoever confirms must understand them.'
  );
}

/** Said at the desk of a case whose language this version can't hear: it goes on in English. */
export function unheardToText(view: { readonly spokenLanguage: string }): string {
  const language = languageToText(view.spokenLanguage);
  return (
    `This case was set up for ${language}, which this version can’t hear: ` +
    'the wall hears English, without voice cards. Speak English to it, or use the keys.'
  );
}
