/** Reads a clock direction as written: "10:30" is 630 minutes past twelve; null where it is none. */
export function handOf(text: string): number | null {
  const match = /^(\d{1,2}):(\d{2})$/.exec(text);
  return match ? (Number(match[1]) % 12) * 60 + Number(match[2]) : null;
}
