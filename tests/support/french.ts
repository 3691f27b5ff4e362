/** The language beside English, for tests of another language. */
import { languageOf } from '../../src/voice';
import type { SpokenLanguage } from '../../src/voice';

const found = languageOf('fr-FR');
if (!found.ok) throw new Error(found.error.code);
export const FRENCH: SpokenLanguage = found.value;
