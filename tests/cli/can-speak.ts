import { execFileSync } from 'node:child_process';

/** Whether lines without a recording can be spoken here; npm test installs flite where it can. */
export function canSpeak(): boolean {
  try {
    execFileSync('flite', ['-lv'], { stdio: 'ignore' });
    return true;
  } catch {
    console.warn('Skipped: a spoken case by its plan needs Debian’s flite and sox.');
    return false;
  }
}
