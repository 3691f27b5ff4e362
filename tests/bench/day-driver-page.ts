/** A window beside the product's own ones that never stops giving orders to the window that writes. */
import { joinWindows } from '../../src/app/windows';
import { asId } from '../../src/domain';
import type { RunId } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import { describeBuiltIn } from '../../src/session';
import { heardPhrase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';

export interface DayDriver {
  /** Has the writing window open a case, with its voice off. */
  open(): Promise<void>;
  /** Goes on until the case has so many entries; gives the milliseconds from each order to its answer. */
  goOn(until: number): Promise<readonly number[]>;
}

const joining = joinWindows({
  // Never written: this window only follows.
  store: createMemoryStore(),
  clock: { wallMs: () => Date.now(), monoMs: () => performance.now() },
  scheduler: {
    after: (delayMs, callback) => {
      const timer = setTimeout(callback, delayMs);
      return () => clearTimeout(timer);
    },
  },
  run: asId<RunId>(crypto.randomUUID()),
  settings: SAMPLE_SETTINGS,
});

async function findCase() {
  const host = await joining;
  if (host.isWriter) throw new Error('The product is not the window that writes');
  while (!host.current)
    await new Promise<void>((resolve) => {
      const stop = host.watch(() => {
        stop();
        resolve();
      });
    });
  return host.current;
}

const spoken = WHOLE_CASE.filter((words) => !words.startsWith('+'));
let said = 0;

const driver: DayDriver = {
  open: async () => {
    const card = describeBuiltIn('reverse-shoulder-glenoid');
    if (!card.ok) throw new Error(card.error.code);
    const { id, data } = card.value;
    const opened = await (await joining).open({
      procedureId: asId(id), procedure: data, mode: 'demo', side: 'right', roles: [], plan: {},
    }); // prettier-ignore
    if (!opened.ok) throw new Error(opened.error.code);
    // Half a day's announcements can't be spoken in some minutes.
    await (await findCase()).submit({ type: 'announcer.mute' }, 'desk');
  },
  goOn: async (until) => {
    const running = await findCase();
    const times: number[] = [];
    while (running.view.entryCount < until) {
      said += 1;
      const words = said % 7 === 6 ? null : (spoken[said % spoken.length] ?? null);
      const begunMs = performance.now();
      await running.hear(heardPhrase(words));
      times.push(performance.now() - begunMs);
      if (running.view.unsavedCount > 0) throw new Error('not saved');
    }
    return times;
  },
};

Object.assign(globalThis, { dayDriver: driver });
