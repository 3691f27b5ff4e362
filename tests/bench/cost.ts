/**
 * `npm run bench -- cost LISTENER`: what one listener costs (held-out/cost.ts), in a process
 * of its own; `npm run bench -- voice --only cost` runs it for each, one after another.
 */
import { COST_SUBJECTS, measureCost } from './held-out/cost';
import { loadTalk } from './held-out/talk-clips';

/** How many phrases are timed? */
const TIMED = 60;

export async function benchCost([name]: readonly string[]): Promise<object> {
  const subject = COST_SUBJECTS.find((one) => one === name);
  if (!subject)
    throw new Error(`Expected one of "${COST_SUBJECTS.join('", "')}", received "${name}"`);
  return measureCost(subject, TIMED, loadTalk(), (minute) =>
    console.error(`${subject}: minute ${minute} of sound`),
  );
}
