/** A bench prints its result last, as one object whose braces stand alone at the line's beginning. */
export function lastObjectOf(text: string, source: string): Readonly<Record<string, unknown>> {
  const from = `\n${text}`.lastIndexOf('\n{\n');
  if (from < 0) throw new Error(`"${source}" holds no result: expected one JSON object, last`);
  return JSON.parse(text.slice(from)) as Readonly<Record<string, unknown>>;
}
