/** Whether a read-back differs from what was planned; the plan is text with its unit. */
import type { ReadBackView } from '../../session';

/** Compares as written, blanks aside: "24 mm" is 24 with mm. */
export function differsFromPlan({ planned, text, unit }: ReadBackView): boolean {
  const bare = (written: string) => written.replace(/\s/g, '');
  return planned !== null && bare(planned) !== bare(`${text}${unit}`);
}
