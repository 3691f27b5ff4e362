/**
 * `npm run bench -- cost LISTENER [--timed N] [--minutes N]`: what one listener costs
 * (held-out/cost.ts), in a process of its own; `npm run bench -- voice --only cost` runs it
 * for each, one after another. N phrases are timed; memory is read over so many minutes of
 * sound, an hour where nothing is said.
 */
import { COST_SUBJECTS, measureCost } from './held-out/cost';
import { loadTalk } from './held-out/talk-clips';

export async function benchCost([name, ...options]: readonly string[]): Promise<object> {
  const subject = COST_SUBJECTS.find((one) => one === name);
  if (!subject)
    throw new Error(`Expected one of "${COST_SUBJECTS.join('", "')}", received "${name}"`);
  const numberOf = (option: string, usual: number): number =>
    options.includes(option) ? Number(options[options.indexOf(option) + 1]) : usual;
  const amount = { timed: numberOf('--timed', 60), minutes: numberOf('--minutes', 60) };
  return measureCost(subject, amount, loadTalk(), (minute) =>
    console.error(`${subject}: minute ${minute} of sound`),
  );
}
