/**
 * A case on a memory record that tests (and the gallery of screens) speak to in
 * words. `+90` moves the clock by ninety seconds.
 */
import { asId } from '../../src/domain';
import type { CaseId, CaseMode, HeardPhrase, PickedCard, RunId, Side } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import type { RecordStore } from '../../src/record';
import { CaseSession, describeBuiltIn } from '../../src/session';
import { HandClock } from './hand-clock';

export const SAMPLE_SETTINGS = { addressPhrase: 'theatre wall', lapseMs: 12_000 };

export interface SampleCase {
  readonly session: CaseSession;
  readonly clock: HandClock;
  readonly store: RecordStore;
  /** Says one phrase after another; a null stands for speech that was not understood. */
  say(...words: readonly (string | null)[]): Promise<void>;
}

/** Opens the flagship with a plan. */
export async function openSampleCase(
  options: {
    store?: RecordStore;
    clock?: HandClock;
    mode?: CaseMode;
    side?: Side;
    procedure?: string;
    addressPhrase?: string;
    voiceCards?: readonly PickedCard[];
  } = {},
): Promise<SampleCase> {
  const {
    store = createMemoryStore(),
    clock = new HandClock(),
    mode = 'demo',
    side = 'right',
    procedure = 'reverse-shoulder-glenoid',
  } = options;
  const card = describeBuiltIn(procedure);
  if (!card.ok) throw new Error('The flagship does not load');
  const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-1') };
  const opened = await CaseSession.open(ports, SAMPLE_SETTINGS, asId<CaseId>('case-sample'), {
    procedureId: asId(card.value.id),
    procedure: card.value.data,
    mode,
    side,
    roles: [
      { role: 'surgeon', label: 'surgeon A' },
      { role: 'scrub', label: 'scrub A' },
    ],
    plan: { wedge: 16, direction: 630, depth: 24, sphere: 40 },
    ...(options.addressPhrase !== undefined && { addressPhrase: options.addressPhrase }),
    ...(options.voiceCards && { voiceCards: options.voiceCards }),
  });
  if (!opened.ok) throw new Error(`The sample case does not open: ${opened.error.code}`);
  const session = opened.value;
  return {
    session,
    clock,
    store,
    say: async (...words) => {
      for (const phrase of words) {
        if (phrase?.startsWith('+')) clock.advance(Number(phrase.slice(1)) * 1000);
        else await session.hear(heardPhrase(phrase));
      }
    },
  };
}

/** A phrase as a listener would report it. */
export function heardPhrase(words: string | null): HeardPhrase {
  return { words, score: 1, listener: 'test', speechMs: 900, decisionMs: 80 };
}

/** The flagship from the first word to its end, as phrases. */
export const WHOLE_CASE: readonly string[] = [
  '+240', 'step done', '+120', 'step done',
  '+60', 'pin placed', '+3', 'confirm', '+40', 'wedge two four', '+3', 'correct one six', '+3', 'confirm',
  '+20', 'reamer ready', '+3', 'confirm', '+10', 'direction ten thirty', '+3', 'confirm',
  '+30', 'step done', '+120', 'step done', '+20', 'trial still rocks', '+3', 'confirm',
  '+90', 'step done', '+20', 'trial seats evenly', '+3', 'confirm', '+5', 'plate small', '+3', 'confirm',
  '+20', 'insert baseplate', '+5', 'depth two four', '+3', 'confirm',
  '+10', 'post two four', '+3', 'confirm', '+60', 'press complete', '+3', 'confirm',
  '+40', 'step done', '+10', 'pin out', '+3', 'confirm', '+10', 'insert baseplate', '+60', 'step done',
  '+30', 'fully seated', '+3', 'confirm',
  '+10', 'screw locking', '+3', 'confirm', '+40', 'step done', '+10', 'length three zero', '+3', 'confirm', '+40', 'step done',
  '+10', 'screw non locking', '+3', 'confirm', '+40', 'step done', '+10', 'length two six', '+3', 'confirm', '+40', 'step done',
  '+5', 'no more screws', '+60', 'step done', '+40', 'glenosphere four zero', '+3', 'confirm', '+40', 'table done',
  '+10', 'place glenosphere', '+30', 'step done', '+40', 'step done', '+20', 'taper checked', '+3', 'confirm', '+50', 'step done',
]; // prettier-ignore
