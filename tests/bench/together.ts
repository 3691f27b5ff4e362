/**
 * `npm run bench -- together`: two people at once, in the tuning voices; `bench -- voice
 * --only together` has the held-out ones. MIXES says how many phrases, each in six ways.
 */
import { TUNING_VOICES } from '../../src/cli/spoken-voices';
import { hearTogether } from './held-out/together';

export async function benchTogether(): Promise<object> {
  return hearTogether(TUNING_VOICES, Number(process.env['MIXES'] ?? 40), () => true);
}
