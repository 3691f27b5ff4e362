/**
 * What is wrong with a procedure file, for whoever brings one: first its form, which is
 * quick, then what walking all of it finds, which is not. And the file that goes out.
 */
import { checkProcedure, inspectProcedure } from '../procedure';
import type { Finding, InspectOptions } from '../procedure';

export type { Finding, InspectOptions, Pronounce } from '../procedure';

/** Faults of form and reference: with any, the file can't run. Empty where there are none. */
export function findFaults(data: unknown): readonly Finding[] {
  const checked = checkProcedure(data);
  return checked.ok ? [] : checked.error;
}

/** All that walking and listening finds as well. Takes seconds. */
export function findRemarks(data: unknown, options: InspectOptions): readonly Finding[] {
  return inspectProcedure(data, options).findings;
}

/** A procedure as a file: two spaces deep, keys as they stand, one line end at the end. */
export function procedureToText(data: unknown): string {
  return `${JSON.stringify(data, null, 2)}\n`;
}

/** Longest id and title of the format. */
const MAX_ID = 48;
const MAX_TITLE = 60;

/** The same procedure under an id that none of these has, and with a title that says so. */
export function giveNewId(
  data: Readonly<Record<string, unknown>>,
  taken: readonly string[],
): Readonly<Record<string, unknown>> {
  const { id, title } = data as { readonly id: string; readonly title: string };
  for (let number = 2; ; number += 1) {
    const [idEnd, titleEnd] = [`-${number}`, ` (${number})`];
    const fresh = `${id.slice(0, MAX_ID - idEnd.length).replace(/-+$/, '')}${idEnd}`;
    if (!taken.includes(fresh))
      return {
        ...data,
        id: fresh,
        title: `${title.slice(0, MAX_TITLE - titleEnd.length).trimEnd()}${titleEnd}`,
      };
  }
}
