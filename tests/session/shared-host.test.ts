/** Several windows and one case, in a browser that is moved by hand. */
import { describe, expect, it } from 'vitest';
import { asId, fault } from '../../src/domain';
import type { AnglePlan, CaseSetup, Entry, RunId, TrackId } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import type { RecordStore } from '../../src/record';
import { describeBuiltIn, makeCaseId, SharedHost } from '../../src/session';
import type { WindowReply, WindowRequest } from '../../src/session';
import { createEntryFeed, createOrderRelay, createWriterElection } from '../../src/windows';
import { SAMPLE_SETTINGS } from '../support/sample-case';
import { createFakeBrowser } from '../windows/fake-windows';

const card = describeBuiltIn('reverse-shoulder-glenoid');
if (!card.ok) throw new Error('The flagship does not load');
const setup: CaseSetup = {
  procedureId: asId(card.value.id),
  procedure: card.value.data,
  mode: 'demo',
  side: 'right',
  roles: [],
  plan: {},
};
const finishField = { type: 'step.finish', track: asId<TrackId>('field') } as const;

function createDesktop() {
  const browser = createFakeBrowser();
  let windows = 0;
  let cases = 0;
  const open = (store: RecordStore) => {
    const id = (windows += 1);
    const { channel, lock, kill } = browser.openWindow();
    let requests = 0;
    const host: SharedHost = new SharedHost(
      { store, clock: browser.clock, scheduler: browser.scheduler, run: asId<RunId>(`run-${id}`) },
      {
        channel,
        election: createWriterElection(lock, 'writer'),
        relay: createOrderRelay<WindowRequest, WindowReply>({
          channel,
          clock: browser.clock,
          scheduler: browser.scheduler,
          newId: () => `${id}-${(requests += 1)}`,
          timeoutMs: 2_000,
          recall: (it) => Promise.resolve(host.recall(it)),
        }),
        feed: createEntryFeed<Entry>(channel),
      },
      SAMPLE_SETTINGS,
      () => makeCaseId(browser.clock.wallMs(), String((cases += 1))),
    );
    void host.join();
    return { host, kill };
  };
  return { browser, open };
}

const stepOf = (host: SharedHost) => host.current?.view.tracks[0]?.current?.step;

describe('windows that share a case', () => {
  it('[SES13] follow the one that writes, and pass their orders to it', async () => {
    const { browser, open } = createDesktop();
    const store = createMemoryStore();
    const wall = open(store);
    await browser.settle();
    const desk = open(store);
    await browser.settle();
    expect([wall.host.isWriter, desk.host.isWriter]).toEqual([true, false]);
    void desk.host.open(setup);
    await browser.settle();
    void desk.host.current?.submit(finishField, 'desk');
    await browser.settle();
    expect(stepOf(wall.host)).toBe('clear-cartilage');
    expect(desk.host.current?.view).toEqual(wall.host.current?.view);
  });

  it('[IMP31] open a case with its planning sheet, whichever window it was typed in', async () => {
    const { browser, open } = createDesktop();
    const wall = open(createMemoryStore());
    await browser.settle();
    const desk = open(createMemoryStore());
    await browser.settle();
    const sheet: AnglePlan = {
      measure: 'lower-face',
      nativeVersionDeg: -12,
      nativeInclinationDeg: 8,
      targetVersionDeg: 0,
      targetInclinationDeg: 0,
      wear: '',
      allowedErrorDeg: null,
    };
    void desk.host.open(setup, sheet);
    await browser.settle();
    expect(wall.host.current?.view.implants.plan).toEqual(sheet);
    expect(desk.host.current?.view.implants.plan).toEqual(sheet);
  });

  it('[SES14] go on when the writing one dies: the next takes over from the record', async () => {
    const { browser, open } = createDesktop();
    const store = createMemoryStore();
    const wall = open(store);
    await browser.settle();
    const desk = open(store);
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    void desk.host.current?.submit(finishField, 'desk');
    await browser.settle();
    wall.kill();
    await browser.settle();
    expect(desk.host.isWriter).toBe(true);
    expect(stepOf(desk.host)).toBe('clear-cartilage');
    void desk.host.current?.submit(finishField, 'desk');
    await browser.settle();
    expect(stepOf(desk.host)).toBe('place-pin');
    const { entries = [] } = desk.host.current ?? {};
    expect(entries.map(({ seq }) => seq)).toEqual(entries.map((_, index) => index));
  });

  it('[SES14] lose nothing without a disk: the next writer keeps what it has followed', async () => {
    const { browser, open } = createDesktop();
    const wall = open(createMemoryStore());
    await browser.settle();
    const desk = open(createMemoryStore());
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    void wall.host.current?.submit(finishField, 'desk');
    await browser.settle();
    wall.kill();
    await browser.settle();
    expect(stepOf(desk.host)).toBe('clear-cartilage');
  });

  it('[SES14] lose nothing when the writer dies while the disk refuses', async () => {
    const { browser, open } = createDesktop();
    const inner = createMemoryStore();
    const full = { wall: false, desk: false };
    const createStore = (window: keyof typeof full): RecordStore => ({
      ...inner,
      append: (caseId, entries) =>
        full[window]
          ? Promise.resolve({
              ok: false,
              error: fault('record-append-failed', { detail: 'quota' }),
            })
          : inner.append(caseId, entries),
    });
    const wall = open(createStore('wall'));
    await browser.settle();
    const desk = open(createStore('desk'));
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    full.wall = full.desk = true;
    void wall.host.current?.submit(finishField, 'desk');
    await browser.settle();
    wall.kill();
    await browser.settle();
    expect(stepOf(desk.host)).toBe('clear-cartilage');
    expect(desk.host.current?.view.unsavedCount).toBeGreaterThan(0);
    // Only the living window gets the disk back.
    full.desk = false;
    browser.advance(2_000);
    await browser.settle();
    expect(desk.host.current?.view.unsavedCount).toBe(0);
  });

  it('[SES22] know an order again that the dead writer had made durable but not answered', async () => {
    const { browser, open } = createDesktop();
    const inner = createMemoryStore();
    let onDurable: (() => void) | null = null;
    const dying: RecordStore = {
      ...inner,
      append: async (caseId, entries) => {
        const appended = await inner.append(caseId, entries);
        onDurable?.();
        return appended;
      },
    };
    const wall = open(dying);
    await browser.settle();
    const desk = open(inner);
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    onDurable = () => wall.kill();
    const question = { type: 'question.ask', question: 'next' } as const;
    const answers: unknown[] = [];
    void desk.host.current?.submit(question, 'desk').then((outcome) => answers.push(outcome));
    await browser.settle();
    expect(desk.host.isWriter).toBe(true);
    expect(answers).toEqual([{ refusal: null }]);
    const asked = desk.host.current?.entries.filter(({ type }) => type === 'question.asked') ?? [];
    expect(asked).toHaveLength(1);
  });

  it('[SES22] know a refusal again in the same way', async () => {
    const { browser, open } = createDesktop();
    const inner = createMemoryStore();
    let onDurable: (() => void) | null = null;
    const dying: RecordStore = {
      ...inner,
      append: async (caseId, entries) => {
        const appended = await inner.append(caseId, entries);
        onDurable?.();
        return appended;
      },
    };
    const wall = open(dying);
    await browser.settle();
    const desk = open(inner);
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    onDurable = () => wall.kill();
    const answers: (string | undefined)[] = [];
    void desk.host.current
      ?.submit({ type: 'clock.resume' }, 'desk')
      .then(({ refusal }) => answers.push(refusal?.code));
    await browser.settle();
    expect(answers).toEqual(['clock-not-held']);
    const refused = desk.host.current?.entries.filter(({ type }) => type === 'order.refused') ?? [];
    expect(refused).toHaveLength(1);
  });

  it('[SES15] see the same when one is opened in the middle of a case', async () => {
    const { browser, open } = createDesktop();
    const store = createMemoryStore();
    const wall = open(store);
    await browser.settle();
    void wall.host.open(setup);
    await browser.settle();
    void wall.host.current?.submit(finishField, 'desk');
    await browser.settle();
    const late = open(store);
    await browser.settle();
    expect(late.host.current?.view).toEqual(wall.host.current?.view);
  });
});
