import { describe, expect, it } from 'vitest';
import { LocalHearing, WorkerHearing } from '../../src/voice';
import type { HearingHostEvents, WorkerLike } from '../../src/voice';
import { loadFixture, hiss, join, loadRealListener, vocabularyOf } from './real-listener';
import { FRENCH } from '../support/french';
import { HandWorker } from '../support/hand-worker';

type Sent = Parameters<WorkerLike['postMessage']>[0];
type Told = Parameters<NonNullable<WorkerLike['onmessage']>>[0]['data'];

function setUp() {
  const workers: HandWorker<Sent, Told>[] = [];
  const log: string[] = [];
  const hearing = new WorkerHearing(
    () => {
      const worker = new HandWorker<Sent, Told>();
      workers.push(worker);
      return worker;
    },
    'https://wall.test/voice/model/',
    'https://wall.test/model/',
  );
  const events: HearingHostEvents = {
    onPhrase: ({ words }) => log.push(`phrase ${words}`),
    onHearing: (is) => log.push(`hearing ${is}`),
    onLevel: () => undefined,
    onLostListener: (wasHearing) => log.push(wasHearing ? 'lost speech' : 'lost'),
    onRestarted: () => log.push('restarted'),
    onFailed: ({ code }) => log.push(code),
  };
  const last = (): HandWorker<Sent, Told> => {
    const worker = workers.at(-1);
    if (!worker) throw new Error('No worker yet');
    return worker;
  };
  return { workers, last, log, hearing, events };
}

const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));
const HEARD = { words: 'step done', score: 1, listener: 'grammar', speechMs: 900, decisionMs: 200 };

describe('hearing in a worker', () => {
  it('[VOI13] starts once the worker is ready and passes on what it tells', async () => {
    const { hearing, events, last, log } = setUp();
    const started = hearing.start(events);
    expect(last().sent).toEqual([
      {
        type: 'start',
        modelBase: 'https://wall.test/voice/model/',
        networkBase: 'https://wall.test/model/',
        language: 'en-GB',
      },
    ]);
    last().tell({ type: 'ready' });
    expect(await started).toEqual({ ok: true, value: null });
    last().tell({ type: 'hearing', isHearing: true });
    last().tell({ type: 'phrase', heard: HEARD });
    expect(log).toEqual(['hearing true', 'phrase step done']);
  });

  it('[VOI13] answers each request with its own answer', async () => {
    const { hearing, events, last } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    const first = hearing.setVocabulary(vocabularyOf(['a']));
    const second = hearing.setVocabulary(vocabularyOf(['b']));
    const ids = last().sent.flatMap((message) =>
      message.type === 'vocabulary' ? [message.id] : [],
    );
    const missing = { code: 'word-not-pronounceable', params: { word: 'b' } } as const;
    last().tell({ type: 'done', id: ids[1] ?? -1, faults: [missing] });
    last().tell({ type: 'done', id: ids[0] ?? -1, faults: [] });
    expect(await first).toEqual([]);
    expect(await second).toEqual([missing]);
  });

  it('[VOI13] replaces a crashed worker, with the same vocabulary and gate', async () => {
    const { hearing, events, workers, last, log } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    const vocabulary = vocabularyOf(['step done']);
    void hearing.setVocabulary(vocabulary);
    hearing.gate(true);
    const pending = hearing.push(new Float32Array(320));
    last().tell({ type: 'failed', detail: 'memory access out of bounds' });
    await pending;
    expect(workers[0]?.isTerminated).toBe(true);
    last().tell({ type: 'ready' });
    await turn();
    expect(log).toEqual(['lost', 'restarted']);
    expect(last().sent).toMatchObject([
      { type: 'start' },
      { type: 'gate', isSpeaking: true },
      { type: 'vocabulary', vocabulary },
    ]);
  });

  it('[VOI13] a failure that a worker tells twice is no failure of the one that replaced it', async () => {
    const { hearing, events, workers, last, log } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    last().tell({ type: 'failed', detail: 'broken' });
    workers[0]?.onerror?.({ message: 'broken' } as ErrorEvent);
    workers[0]?.tell({ type: 'phrase', heard: HEARD });
    last().tell({ type: 'ready' });
    await turn();
    expect(log).toEqual(['lost', 'restarted']);
    expect(workers).toHaveLength(2);
  });

  it('[CARD5] tells voice cards to every worker that it starts', async () => {
    const { hearing, events, last } = setUp();
    const cards = [{ label: 'nurse B', takes: [{ text: 'deux', pcm: new Int16Array(1_600) }] }];
    await hearing.setVoices({ language: FRENCH, cards });
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    expect(last().sent[0]).toMatchObject({ type: 'start', language: 'fr-FR' });
    expect(last().sent).toContainEqual({ type: 'cards', cards });
    last().tell({ type: 'failed', detail: 'memory access out of bounds' });
    last().tell({ type: 'ready' });
    await turn();
    expect(last().sent).toContainEqual({ type: 'cards', cards });
    // A role was handed over: what counts is the newcomer's card, also after the next crash.
    const newcomer = [{ label: 'nurse C', takes: [{ text: 'trois', pcm: new Int16Array(1_600) }] }];
    await hearing.setVoices({ language: FRENCH, cards: newcomer });
    last().tell({ type: 'failed', detail: 'memory access out of bounds' });
    last().tell({ type: 'ready' });
    await turn();
    expect(last().sent.filter(({ type }) => type === 'cards')).toEqual([
      { type: 'cards', cards: newcomer },
    ]);
    await hearing.setVoices({ language: FRENCH, cards: [] });
    expect(last().sent.at(-1)).toEqual({ type: 'cards', cards: [] });
  });

  it('[LANG5] ends a worker of another language; the next start loads its model', async () => {
    const { hearing, events, workers, last } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    await hearing.setVoices({ language: FRENCH, cards: [] });
    expect(workers[0]?.isTerminated).toBe(true);
    void hearing.start(events);
    expect(last().sent[0]).toMatchObject({ type: 'start', language: 'fr-FR' });
  });

  it('[VOI13] gives up after four crashes in a row', async () => {
    const { hearing, events, workers, last, log } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    for (let i = 0; i < 4; i += 1) {
      last().tell({ type: 'failed', detail: 'again' });
      if (i < 3) last().tell({ type: 'ready' });
      await turn();
    }
    expect(workers).toHaveLength(4);
    expect(log).toEqual([
      'lost',
      'restarted',
      'lost',
      'restarted',
      'lost',
      'restarted',
      'listener-failed',
    ]);
  });

  it('[EAR4] tells that speech was under way when the worker died, and takes a silent one for dead', async () => {
    const { hearing, events, workers, last, log } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'ready' });
    await started;
    last().tell({ type: 'hearing', isHearing: true });
    hearing.restart();
    expect(workers[0]?.isTerminated).toBe(true);
    last().tell({ type: 'ready' });
    await turn();
    hearing.restart();
    expect(log).toEqual(['hearing true', 'lost speech', 'restarted', 'lost']);
  });

  it('[VOI13] reports a worker that never gets ready, and tries it anew only when asked', async () => {
    const { hearing, events, workers, last } = setUp();
    const started = hearing.start(events);
    last().tell({ type: 'failed', detail: 'Failed to fetch dict.txt' });
    expect(await started).toMatchObject({ ok: false, error: { code: 'listener-failed' } });
    expect(workers).toHaveLength(1);
    void hearing.start(events);
    expect(workers).toHaveLength(2);
  });
});

describe('hearing in this thread', () => {
  it('[VOI13] reports a listener whose files are missing', async () => {
    const { events } = setUp();
    const hearing = new LocalHearing(() => Promise.reject(new Error('no such file')));
    expect(await hearing.start(events)).toMatchObject({
      ok: false,
      error: { code: 'listener-failed' },
    });
  });

  it('[VOI14] hears a recording with the real listener', async () => {
    const { events, log } = setUp();
    const hearing = new LocalHearing(loadRealListener);
    await hearing.start(events);
    await hearing.setVocabulary(vocabularyOf(['depth two four', 'depth two eight']));
    await hearing.push(join(hiss(500), loadFixture('slt-depth-two-four'), hiss(900)));
    await hearing.close();
    expect(log).toContain('phrase depth two four');
  });
});
