/**
 * The same grammar as the first listener's, written out in JSGF (W3C note of 2000): every
 * phrase and every beginning of one, each on its own, for decoders that read that.
 */

/** Words in lower case. An address phrase may stand alone; without one something must be said. */
export function writeOutGrammar(address: string, phrases: readonly string[]): string {
  const sentences = new Set(phrases.flatMap((phrase) => listBeginnings(phrase.split(' '))));
  const alternatives = [...sentences].join(' | ');
  const command = address === '' ? `( ${alternatives} )` : `${address} [ ${alternatives} ]`;
  return `#JSGF V1.0;\ngrammar commands;\npublic <command> = ${command};\n`;
}

/** "depth", "depth two", "depth two four". */
function listBeginnings(words: readonly string[]): string[] {
  return words.map((_, index) => words.slice(0, index + 1).join(' '));
}
