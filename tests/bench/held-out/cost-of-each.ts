/** What each listener costs, one after another, each in a process of its own. */
import { execFileSync } from 'node:child_process';
import { ROOT } from '../../../src/cli/run-program';
import { COST_SUBJECTS } from './cost';
import { lastObjectOf } from './last-object';

export function measureCostOfEach(): object {
  return Object.fromEntries(
    COST_SUBJECTS.map((subject) => {
      const args = ['--import', 'tsx', 'src/cli/main.ts', 'bench', 'cost', subject];
      const printed = execFileSync(process.execPath, args, {
        cwd: ROOT,
        encoding: 'utf8',
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      return [subject, lastObjectOf(printed, `bench cost ${subject}`)];
    }),
  );
}
