/**
 * Something the wall says aloud. Segments are short texts that are spoken one after
 * another; each may be a recorded clip. Priorities in falling order.
 */
export const ANNOUNCEMENT_PRIORITIES = [
  'hold-point',
  'read-back',
  'reminder',
  'answer',
  'cue',
] as const;
export type AnnouncementPriority = (typeof ANNOUNCEMENT_PRIORITIES)[number];

export interface Announcement {
  readonly priority: AnnouncementPriority;
  readonly segments: readonly string[];
}
