/**
 * Pronunciations the recogniser's dictionary lacks, in ARPAbet without stress
 * (the CMU dictionary's phones). Two spellings of one word may stand side by side
 * where people say it in two ways. A word that is here and in the dictionary is
 * taken from the dictionary.
 */

/** The phones of the en-us model, without silence and noises. */
export const PHONES = [
  'AA', 'AE', 'AH', 'AO', 'AW', 'AY', 'B', 'CH', 'D', 'DH', 'EH', 'ER', 'EY', 'F', 'G', 'HH',
  'IH', 'IY', 'JH', 'K', 'L', 'M', 'N', 'NG', 'OW', 'OY', 'P', 'R', 'S', 'SH', 'T', 'TH', 'UH',
  'UW', 'V', 'W', 'Y', 'Z', 'ZH',
] as const; // prettier-ignore

/** Word, then one or more pronunciations. */
export const LEXICON: Readonly<Record<string, readonly string[]>> = {
  acetabular: ['AE S AH T AE B Y AH L ER'],
  acetabulum: ['AE S AH T AE B Y AH L AH M'],
  anticlockwise: ['AE N T IY K L AA K W AY Z'],
  baseplate: ['B EY S P L EY T'],
  cancellous: ['K AE N S AH L AH S'],
  cannulated: ['K AE N Y AH L EY T IH D'],
  coracoid: ['K AO R AH K OY D'],
  glenoid: ['G L EH N OY D', 'G L IY N OY D'],
  glenosphere: ['G L EH N OW S F IH R', 'G L IY N OW S F IH R'],
  guidewire: ['G AY D W AY ER'],
  humeral: ['HH Y UW M ER AH L'],
  impactor: ['IH M P AE K T ER'],
  labrum: ['L EY B R AH M'],
  lavage: ['L AH V AA ZH', 'L AE V IH JH'],
  nonlocking: ['N AA N L AA K IH NG'],
  osteophyte: ['AA S T IY AH F AY T'],
  osteophytes: ['AA S T IY AH F AY T S'],
  patellar: ['P AH T EH L ER'],
  reamed: ['R IY M D'],
  reaming: ['R IY M IH NG'],
  retractor: ['R IH T R AE K T ER'],
  retroversion: ['R EH T R OW V ER ZH AH N', 'R EH T R OW V ER SH AH N'],
  rotator: ['R OW T EY T ER'],
  subscapularis: ['S AH B S K AE P Y AH L EH R IH S'],
  tibial: ['T IH B IY AH L'],
  tuberosity: ['T UW B ER AA S AH T IY', 'T Y UW B ER AA S AH T IY'],
  unmute: ['AH N M Y UW T'],
};

/** The phonemes of a word that only the lexicon has; null where it has none. */
export function pronunciationOf(word: string): readonly string[] | null {
  return LEXICON[word]?.[0]?.split(' ') ?? null;
}
