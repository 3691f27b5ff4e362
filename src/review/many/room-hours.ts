/** When a room is there to be used, as a team types it, keeps it and gives it to another machine. */
import * as v from 'valibot';

const DAY_MIN = 1440;

export const RoomHoursSchema = v.pipe(
  v.object({
    /** Local time at which they begin, in minutes after midnight. */
    fromMin: v.pipe(v.number(), v.integer(), v.minValue(0), v.maxValue(DAY_MIN - 1)),
    /** How long they last. */
    hours: v.pipe(v.number(), v.minValue(1), v.maxValue(24)),
  }),
  v.readonly(),
);

/** On each day with a case. */
export type RoomHours = v.InferOutput<typeof RoomHoursSchema>;

/** Eight hours from eight o'clock: a start to type over, no recommendation. */
export const USUAL_HOURS: RoomHours = { fromMin: 480, hours: 8 };

/** What was kept, where it is hours that can be used; else null. */
export function readRoomHours(kept: unknown): RoomHours | null {
  const read = v.safeParse(RoomHoursSchema, kept);
  return read.success ? read.output : null;
}
