/** Recorded lines of the rehearsal: what babble is made of, and talk where no other is at hand. */
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { ROOT } from '../../../src/cli/run-program';
import { readWav, REHEARSAL_CLIPS } from '../../../src/voice';

const LINES = 12;

export function loadTalk(): readonly Float32Array[] {
  return REHEARSAL_CLIPS.slice(0, LINES).map(({ file }) =>
    readWav(readFileSync(path.join(ROOT, 'src/voice/rehearsal-clips', file))),
  );
}
