/**
 * What typed digits mean for the capture that is wanted. A number is typed as it
 * is, a clock direction as on a digital clock ("1030", "930", "9"), a choice and
 * a report by the place of the option ("1"). Nothing here becomes a fact: it is
 * offered, read back and confirmed like a spoken one.
 */
import type { CaptureValue } from '../../domain';
import type { WantedView } from '../../session';

/** No size or direction needs more. */
export const MAX_DIGITS = 4;

/** The value to offer; null where the digits mean nothing for this capture. A number that is not in the set is still offered, so that the refusal says so and is recorded. */
export function typedToValue(typed: string, wanted: WantedView): CaptureValue | null {
  if (!/^\d{1,4}$/.test(typed)) return null;
  switch (wanted.kind) {
    case 'number':
    case 'quantity':
      return Number(typed);
    case 'clock':
      return typedToClock(typed);
    case 'choice':
    case 'yes-no':
    case 'report':
      return wanted.options[Number(typed) - 1]?.value ?? null;
    case 'note':
    case 'label':
      return null; // Written or scanned into a field of its own.
  }
}

/** What the typed digits stand for, as shown beside them before Enter; null where they mean nothing yet. */
export function typedToText(typed: string, wanted: WantedView): string | null {
  const value = typedToValue(typed, wanted);
  if (value === null) return null;
  const option = wanted.options.find((candidate) => candidate.value === value);
  return option ? option.text : null;
}

/** Minutes past twelve; null where it is no time on a clock face. */
function typedToClock(typed: string): number | null {
  const hour = Number(typed.length > 2 ? typed.slice(0, -2) : typed);
  const minute = typed.length > 2 ? Number(typed.slice(-2)) : 0;
  if (hour < 1 || hour > 12 || minute > 59) return null;
  return (hour % 12) * 60 + minute;
}
