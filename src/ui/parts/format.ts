/** Times as people read them on the screens. Local time, 24 hours, no locale surprises. */

/** Milliseconds in a second, a minute, an hour. */
const SECOND_MS = 1000;
const MINUTE_MS = 60_000;

/** A running or finished duration: "0:07", "18:20", "1:07:45". */
export function elapsedToText(ms: number): string {
  const seconds = Math.floor(Math.max(0, ms) / SECOND_MS);
  const hours = Math.floor(seconds / 3600);
  const minutes = Math.floor(seconds / 60) % 60;
  const rest = pad(seconds % 60);
  return hours > 0 ? `${hours}:${pad(minutes)}:${rest}` : `${minutes}:${rest}`;
}

/** Whole minutes for a usual time: "6 min". */
export function minutesToText(ms: number): string {
  const minutes = ms / MINUTE_MS;
  return `${Number.isInteger(minutes) ? minutes : minutes.toFixed(1)} min`;
}

/** Wall time: "14:32". */
export function timeOfDayToText(at: number): string {
  const date = new Date(at);
  return `${pad(date.getHours())}:${pad(date.getMinutes())}`;
}

/** Wall time with seconds: "14:32:07". */
export function timeOfDayToSeconds(at: number): string {
  return `${timeOfDayToText(at)}:${pad(new Date(at).getSeconds())}`;
}

const MONTHS = [
  'Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec',
] as const; // prettier-ignore

/** A day: "4 Mar 2026". */
export function dayToText(at: number): string {
  const date = new Date(at);
  return `${date.getDate()} ${MONTHS[date.getMonth()] ?? ''} ${date.getFullYear()}`;
}

/** Local time minus UTC at that moment, in minutes. */
export function utcOffsetMin(at: number): number {
  return -new Date(at).getTimezoneOffset();
}

/** A count and its noun: "1 entry", "3 entries". */
export function countToText(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

function pad(number: number): string {
  return String(number).padStart(2, '0');
}
