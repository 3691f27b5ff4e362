/** Resource hours as text. Pure. */
import type { RoomHours } from '../../review';

/** The local time at which they begin: "07:30". */
export function startToText({ fromMin }: RoomHours): string {
  const pad = (number: number) => String(number).padStart(2, '0');
  return `${pad(Math.floor(fromMin / 60))}:${pad(fromMin % 60)}`;
}
