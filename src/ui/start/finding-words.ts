/** A finding of the procedure check in the words of somebody who wrote the file, not of the checker. Pure. */

const WORDS: Readonly<Record<string, string>> = {
  string: 'text',
  number: 'a number',
  boolean: 'true or false',
  Array: 'a list',
  Object: 'a group in braces',
  never: 'nothing',
  undefined: 'nothing',
  null: 'nothing (null)',
};

/** Where, counted from one: "tracks.0.phases.2.title" is "track 1, phase 3, title". */
export function pathToWords(path: string): string {
  const parts = path.split('.');
  return parts
    .flatMap((part, index) => {
      if (/^\d+$/.test(part)) return [];
      const place = parts[index + 1];
      const name = part.replace(/([a-z])([A-Z])/g, '$1 $2').toLowerCase();
      return place !== undefined && /^\d+$/.test(place)
        ? [`${name.replace(/s$/, '')} ${Number(place) + 1}`]
        : [name];
    })
    .join(', ');
}

/** What was expected or found: the checker's own terms become plain ones, everything else stays. */
export function termToWords(term: string): string {
  const known = WORDS[term];
  if (known !== undefined) return known;
  if (/^\/.*\/\w*$/.test(term)) return 'text of another form, such as “post-hole”';
  const limit = /^([<>])=(.+)$/.exec(term);
  if (limit) return `${limit[1] === '>' ? 'at least' : 'at most'} ${limit[2] ?? ''}`;
  return term.startsWith('(') ? `one of ${term.slice(1, -1).replaceAll(' | ', ', ')}` : term;
}
