/**
 * Dates on labels. Two-digit years follow GS1's rule (General Specifications,
 * "Determination of century in dates"): a year 51 or more ahead of this one belongs
 * to the last century, 50 or more behind it to the next. HIBC gives no rule of its
 * own; the same one is used.
 */

/** Days of each month in a common year. */
const MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/** The full year that two digits mean, seen from this year. */
export function fullYear(twoDigits: number, thisYear: number): number {
  const ahead = twoDigits - (thisYear % 100);
  const century = thisYear - (thisYear % 100);
  if (ahead >= 51) return century - 100 + twoDigits;
  if (ahead <= -50) return century + 100 + twoDigits;
  return century + twoDigits;
}

/** How many days a month has; 0 where there is no such month. */
export function daysInMonth(year: number, month: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && isLeap ? 29 : (MONTH_DAYS[month - 1] ?? 0);
}

/** A day as ISO text; null where there is none such. Day 0 is the last of the month. */
export function toIsoDate(year: number, month: number, day: number): string | null {
  const last = daysInMonth(year, month);
  if (last === 0 || day > last || day < 0) return null;
  return [String(year).padStart(4, '0'), two(month), two(day === 0 ? last : day)].join('-');
}

/** The day with that number in the year, 1 to 365 or 366; null beyond. */
export function dayOfYearToIso(year: number, dayOfYear: number): string | null {
  let left = dayOfYear;
  for (let month = 1; month <= 12 && left >= 1; month += 1) {
    const days = daysInMonth(year, month);
    if (left <= days) return toIsoDate(year, month, left);
    left -= days;
  }
  return null;
}

function two(value: number): string {
  return String(value).padStart(2, '0');
}
