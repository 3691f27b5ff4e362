/** One running case, from order to record to view, on a memory record and hand-moved clocks. */
import { describe, expect, it } from 'vitest';
import { asId, fault } from '../../src/domain';
import type { Announcement, Entry, HoldPointId, RunId, TrackId } from '../../src/domain';
import { createMemoryStore } from '../../src/record';
import type { MemoryContents, RecordStore } from '../../src/record';
import { CaseLog, CaseSession, isStillTrue } from '../../src/session';
import { HandClock } from '../support/hand-clock';
import { openSampleCase, SAMPLE_SETTINGS, WHOLE_CASE } from '../support/sample-case';
import { settle } from '../support/settle';

const UP_TO_DEPTH = WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('insert baseplate'));
const typesOf = (entries: readonly Entry[]) => entries.map(({ type }) => type);

describe('a case', () => {
  it('[SES1] runs from the first word to the last, with every size settled', async () => {
    const { session, say } = await openSampleCase();
    await say(...WHOLE_CASE);
    expect(session.view.status).toBe('complete');
    const sizes = session.view.sizes.map(({ label, parts }) => [
      label,
      parts.map(({ text }) => text).filter(Boolean),
    ]);
    expect(Object.fromEntries(sizes)).toMatchObject({
      Wedge: ['16'], Mark: ['10:30'], Depth: ['24'], Post: ['24'], Plate: ['Small'], Screws: ['30', '26'], Sphere: ['40'],
    }); // prettier-ignore
  });

  it('[SES2] refuses the baseplate before a depth, says what is missing and records it', async () => {
    const { session, say } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'insert baseplate');
    const refused = session.entries.findLast(({ type }) => type === 'order.refused');
    expect(refused?.data).toMatchObject({ code: 'hold-point-closed', holdPoint: 'baseplate' });
    expect(session.view.heldAttempt?.conditions.filter(({ isMet }) => !isMet).map(({ text }) => text)).toEqual([
      'Depth not confirmed', 'Pin not reported out', 'Plate and post not joined',
    ]); // prettier-ignore
    expect(session.view.tracks[0]?.current?.step).toBe('measure-depth');
  });

  it('[SES3] makes no fact of a size that nobody confirmed: it lapses, visibly', async () => {
    const { session, say, clock } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four');
    clock.advance(SAMPLE_SETTINGS.lapseMs - 1);
    await settle();
    expect(session.view.readBack?.text).toBe('24');
    clock.advance(1);
    await settle();
    expect(session.view.readBack).toBeNull();
    expect(typesOf(session.entries).at(-1)).toBe('capture.lapsed');
    expect(session.view.sizes.find(({ label }) => label === 'Depth')?.parts[0]?.state).toBe(
      'wanted',
    );
  });

  it('[SES3] gives a corrected size its full time, whatever else is said meanwhile', async () => {
    const { session, say, clock } = await openSampleCase();
    await say(
      ...UP_TO_DEPTH,
      'depth two four',
      '+10',
      'correct two eight',
      '+5',
      'what is next',
      '+5',
    );
    await settle();
    expect(session.view.readBack?.text).toBe('28');
    clock.advance(2_000);
    await settle();
    expect(session.view.readBack).toBeNull();
  });

  it('[SES4] records speech that it could make nothing of, and phrases that mean nothing now', async () => {
    const { session, say } = await openSampleCase();
    const before = session.entries.length;
    await say(null, 'depth two four');
    expect(typesOf(session.entries.slice(before))).toEqual([
      'phrase.heard',
      'order.refused',
      'phrase.heard',
      'order.refused',
    ]);
    expect(session.view.lastOrder).toMatchObject({ words: 'depth two four', outcome: 'refused' });
  });

  it('[SES5] gives an override at the desk only, with a reason and a second confirmation', async () => {
    const { session, say } = await openSampleCase();
    await say(...UP_TO_DEPTH);
    const baseplate = asId<HoldPointId>('baseplate');
    const request = {
      type: 'override.request',
      holdPoint: baseplate,
      reason: 'gauge broken',
    } as const;
    expect((await session.submit(request, 'voice')).refusal?.code).toBe('override-only-at-desk');
    expect((await session.submit({ ...request, reason: ' ' }, 'desk')).refusal?.code).toBe(
      'override-needs-reason',
    );
    expect((await session.submit(request, 'desk')).refusal).toBeNull();
    expect(session.view.holdPoints.find(({ id }) => id === baseplate)?.state).toBe('closed');
    expect((await session.submit({ type: 'override.confirm' }, 'pedal')).refusal?.code).toBe(
      'override-only-at-desk',
    );
    expect((await session.submit({ type: 'override.confirm' }, 'desk')).refusal).toBeNull();
    expect(session.view.holdPoints.find(({ id }) => id === baseplate)?.state).toBe('overridden');
    const granted = session.entries.find(({ type }) => type === 'override.granted');
    expect(granted?.data).toMatchObject({
      missing: expect.arrayContaining(['Depth not confirmed']),
    });
  });

  it('[SES6] refuses a post that differs from the depth, and takes it after an override', async () => {
    const { session, say } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four', 'confirm', 'post two eight');
    expect(session.view.readBack).toBeNull();
    expect(session.view.heldAttempt?.conditions).toEqual([
      { isMet: false, text: 'Post differs from depth 24 mm' },
    ]);
    const request = {
      type: 'override.request',
      holdPoint: asId<HoldPointId>('post-length'),
      reason: 'bone',
    } as const;
    await session.submit(request, 'desk');
    await session.submit({ type: 'override.confirm' }, 'desk');
    await say('post two eight', 'confirm');
    expect(session.view.sizes.find(({ label }) => label === 'Post')?.parts[0]).toMatchObject({
      text: '28',
      state: 'settled',
    });
  });

  it('[SES7] closes hold points again when a size is taken back, on both tracks', async () => {
    const { session, say } = await openSampleCase();
    await say(
      ...UP_TO_DEPTH,
      'depth two four',
      'confirm',
      'post two four',
      'confirm',
      'press complete',
      'confirm',
      'go back',
    );
    // One phrase must not wipe what other hands have settled: that is the desk's to do.
    expect(session.view.refusals.at(-1)?.code).toBe('go-back-reaches-far');
    await session.submit({ type: 'step.goBack', track: asId<TrackId>('field') }, 'desk');
    expect(session.view.tracks[1]?.held?.id).toBe('post-choice');
    expect(session.view.sizes.find(({ label }) => label === 'Post')?.parts[0]?.state).toBe('ahead');
    await say('insert baseplate');
    expect(session.view.heldAttempt?.conditions.filter(({ isMet }) => !isMet)).toHaveLength(3);
  });

  it('[SES18] refuses an order whose subject has changed since its giver saw it', async () => {
    const { session, say } = await openSampleCase();
    await say('step done', 'step done', 'pin placed', 'confirm', 'wedge two four');
    const seen = session.view.entryCount;
    await say('correct one six');
    const late = await session.submit({ type: 'capture.confirm' }, 'desk', seen);
    expect(late.refusal?.code).toBe('changed-meanwhile');
    expect(session.view.readBack?.text).toBe('16');
    const timely = await session.submit(
      { type: 'capture.confirm' },
      'desk',
      session.view.entryCount,
    );
    expect(timely.refusal).toBeNull();
  });

  it('[SES18] carries one “step done” out once when two windows give it for the same step', async () => {
    const { session } = await openSampleCase();
    const seen = session.view.entryCount;
    const done = { type: 'step.finish', track: asId<TrackId>('field') } as const;
    const outcomes = await Promise.all([
      session.submit(done, 'desk', seen),
      session.submit(done, 'pedal', seen),
    ]);
    expect(outcomes.map(({ refusal }) => refusal?.code)).toEqual([undefined, 'changed-meanwhile']);
    expect(session.view.tracks[0]?.current?.step).toBe('clear-cartilage');
  });

  it('[SES19] excuses with an override only what was missing when it was asked for', async () => {
    const { session, say } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four', 'confirm', 'post two four', 'confirm');
    await say('press complete', 'confirm', 'step done');
    const baseplate = asId<HoldPointId>('baseplate');
    await session.submit(
      { type: 'override.request', holdPoint: baseplate, reason: 'pin broke' },
      'desk',
    );
    await session.submit({ type: 'step.goBack', track: asId<TrackId>('table') }, 'desk');
    const grown = await session.submit({ type: 'override.confirm' }, 'desk');
    expect(grown.refusal?.code).toBe('override-changed');
  });

  it('[SES19] leaves no step out that a closed hold point guards', async () => {
    const { session, say } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four', 'confirm', 'step done', 'pin out', 'confirm');
    const skip = { type: 'step.skip', track: asId<TrackId>('field'), reason: 'later' } as const;
    expect((await session.submit(skip, 'desk')).refusal?.code).toBe('hold-point-closed');
  });

  it('[SES20] lets a read-back lapse that was left open over a restart', async () => {
    const { session, say, store, clock } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four');
    session.close();
    const later = new HandClock(clock.wallMs() + 3_600_000);
    const ports = { store, clock: later, scheduler: later, run: asId<RunId>('run-2') };
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, session.view.caseId);
    if (!resumed.ok) throw new Error(resumed.error.code);
    const { refusal } = await resumed.value.submit({ type: 'capture.confirm' }, 'desk');
    expect(refusal?.code).toBe('no-read-back');
    expect(resumed.value.view.sizes.find(({ label }) => label === 'Depth')?.parts[0]?.state).toBe(
      'wanted',
    );
  });

  it('[SES8] stops moving while the clock is held, and says why', async () => {
    const { session, say } = await openSampleCase();
    await say('hold for imaging', 'step done');
    expect(session.view.clockHold?.reason).toBe('Imaging');
    expect(session.view.refusals.at(-1)?.code).toBe('clock-held');
    await say('resume the clock', 'step done');
    expect(session.view.tracks[0]?.current?.step).toBe('clear-cartilage');
  });

  it('[SES9] resumes at the same step with the same sizes after the window was gone', async () => {
    const { session, say, store, clock } = await openSampleCase();
    await say(...UP_TO_DEPTH, 'depth two four', 'confirm');
    session.close();
    const later = new HandClock(clock.wallMs() + 90_000);
    const ports = { store, clock: later, scheduler: later, run: asId<RunId>('run-2') };
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, session.view.caseId);
    if (!resumed.ok) throw new Error(resumed.error.code);
    expect(resumed.value.view.tracks).toEqual(session.view.tracks);
    expect(resumed.value.view.sizes).toEqual(session.view.sizes);
    expect(resumed.value.entries.at(-1)).toMatchObject({ type: 'run.resumed', run: 'run-2' });
  });
});

describe('a record with a torn end', () => {
  it('[SES21] is taken up without it, says so for ever, and goes on', async () => {
    const contents: MemoryContents = new Map();
    const { session, say, clock } = await openSampleCase({ store: createMemoryStore(contents) });
    await say('step done', 'step done');
    session.close();
    const { caseId } = session.view;
    const stored = contents.get(caseId) ?? [];
    const seq = stored.length;
    contents.set(caseId, [...stored, { seq, value: { seq, type: 'step.fin' } }]);
    const store = createMemoryStore(contents);
    const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-2') };
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
    if (!resumed.ok) throw new Error(resumed.error.code);
    expect(resumed.value.view.tracks).toEqual(session.view.tracks);
    expect(resumed.value.entries.slice(-2)).toMatchObject([
      { seq, type: 'record.mended', data: { from: seq, setAside: 1 } },
      { type: 'run.resumed' },
    ]);
    await resumed.value.submit({ type: 'clock.hold', reason: 'Imaging' }, 'desk');
    const read = await store.read(caseId);
    expect(read.ok && [read.value.problem, read.value.seal.brokenAt]).toEqual([null, []]);
    expect(read.ok && read.value.entries).toEqual(resumed.value.entries);
  });

  it('[SES21] is left alone where a newer version wrote it', async () => {
    const contents: MemoryContents = new Map();
    const { session, clock } = await openSampleCase({ store: createMemoryStore(contents) });
    const { caseId } = session.view;
    const stored = contents.get(caseId) ?? [];
    const newer = { seq: stored.length, value: { seq: stored.length, version: 99 } };
    contents.set(caseId, [...stored, newer]);
    const store = createMemoryStore(contents);
    const ports = { store, clock, scheduler: clock, run: asId<RunId>('run-2') };
    const resumed = await CaseSession.resume(ports, SAMPLE_SETTINGS, caseId);
    expect(resumed.ok ? null : resumed.error.code).toBe('record-too-new');
    expect(contents.get(caseId)?.at(-1)).toEqual(newer);
  });
});

describe('a record that fails', () => {
  /** A store that refuses while `isBroken`. */
  function createFragileStore(): { store: RecordStore; isBroken: boolean } {
    const inner = createMemoryStore();
    const fragile: { isBroken: boolean; store: RecordStore } = {
      isBroken: false,
      store: {
        ...inner,
        append: (caseId, entries) =>
          fragile.isBroken
            ? Promise.resolve({
                ok: false,
                error: fault('record-append-failed', { seq: '', detail: 'quota' }),
              })
            : inner.append(caseId, entries),
      },
    };
    return fragile;
  }

  it('[SES10] does not stop the case: entries wait, are counted, and are written later', async () => {
    const fragile = createFragileStore();
    const { session, say, clock, store } = await openSampleCase({ store: fragile.store });
    fragile.isBroken = true;
    await say('step done', 'step done');
    expect(session.view.tracks[0]?.current?.step).toBe('place-pin');
    expect(session.view.unsavedCount).toBe(6);
    expect(session.view.storageFault?.code).toBe('record-append-failed');
    fragile.isBroken = false;
    clock.advance(2_000);
    await settle();
    expect(session.view.unsavedCount).toBe(0);
    expect(session.view.storageFault).toBeNull();
    const read = await store.read(session.view.caseId);
    expect(read.ok && read.value.entries).toEqual(session.entries);
  });

  it('[SES17] is written again whole when the store has lost it in the middle of a case', async () => {
    let inner = createMemoryStore();
    const store: RecordStore = {
      ...inner,
      append: (caseId, entries) => inner.append(caseId, entries),
      read: (caseId) => inner.read(caseId),
    };
    const { session, say } = await openSampleCase({ store });
    await say('step done');
    inner = createMemoryStore();
    await say('step done');
    expect(session.view.unsavedCount).toBe(0);
    const read = await store.read(session.view.caseId);
    expect(read.ok && read.value.entries).toEqual(session.entries);
  });

  it('[SES11] shows an order unsaved rather than freezing when the disk never answers', async () => {
    const inner = createMemoryStore();
    let isHanging = false;
    const store: RecordStore = {
      ...inner,
      append: (caseId, entries) =>
        isHanging ? new Promise(() => undefined) : inner.append(caseId, entries),
    };
    const { session, clock } = await openSampleCase({ store });
    isHanging = true;
    const order = session.submit({ type: 'step.finish', track: asId<TrackId>('field') }, 'desk');
    await settle();
    clock.advance(1_500);
    await order;
    expect(session.view.tracks[0]?.current?.step).toBe('clear-cartilage');
    expect(session.view.unsavedCount).toBe(2);
  });
});

describe('what the wall says aloud', () => {
  it('[SES70] knows of each announcement whether it is still true', async () => {
    const { session, say } = await openSampleCase();
    const heard: Announcement[] = [];
    session.subscribe(({ announcements }) => heard.push(...announcements));
    const isTrue = (text: string) => {
      const found = heard.findLast(({ segments }) => segments.join(' ').startsWith(text));
      if (!found) throw new Error(`"${text}" was never announced`);
      return isStillTrue(found.about, session.view);
    };
    await say(...UP_TO_DEPTH, 'insert baseplate');
    expect(isTrue('Not yet')).toBe(true);
    await say('depth two four');
    expect(isTrue('Depth two four')).toBe(true);
    await say('correct two eight');
    expect([isTrue('Depth two four'), isTrue('Depth two eight')]).toEqual([false, true]);
    await say('confirm');
    expect(isTrue('Depth two eight')).toBe(false);
    const last = heard.at(-1);
    await say('mute voice');
    expect(last && isStillTrue(last.about, session.view)).toBe(false);
  });

  it('[SES70] lets a cue go when its step is over, and a lapsed size when it is said', async () => {
    const { session, say, clock } = await openSampleCase();
    const heard: Announcement[] = [];
    session.subscribe(({ announcements }) => heard.push(...announcements));
    await say('step done', 'step done');
    const cue = heard.findLast(({ priority }) => priority === 'cue');
    if (!cue) throw new Error('No cue was announced');
    expect(isStillTrue(cue.about, session.view)).toBe(true);
    await say(...WHOLE_CASE.slice(2, WHOLE_CASE.indexOf('insert baseplate')), 'depth two four');
    expect(isStillTrue(cue.about, session.view)).toBe(false);
    clock.advance(SAMPLE_SETTINGS.lapseMs);
    await settle();
    const lapsed = heard.at(-1);
    expect(lapsed?.segments).toEqual(['Depth', 'not recorded']);
    expect(lapsed && isStillTrue(lapsed.about, session.view)).toBe(true);
    await say('depth two four');
    expect(lapsed && isStillTrue(lapsed.about, session.view)).toBe(false);
  });

  it('[SES71] keeps what one says first as it was opened with, whatever a later program takes', async () => {
    const { session } = await openSampleCase({ addressPhrase: 'hello wall' });
    expect(session.vocabulary.addressPhrase).toBe('hello wall');
    const later = CaseLog.rebuild(session.entries, { ...SAMPLE_SETTINGS, addressPhrase: 'x' });
    expect(later.ok && later.value.vocabulary().addressPhrase).toBe('hello wall');
    const older = await openSampleCase();
    expect(older.session.view.addressPhrase).toBe(SAMPLE_SETTINGS.addressPhrase);
    const pressed = await openSampleCase({ addressPhrase: '' });
    expect(pressed.session.view.addressPhrase).toBe('');
  });

  it('[SES12] reads back, cues, explains a hold, and is silent when muted or in a quiet phase', async () => {
    const { session, say } = await openSampleCase();
    const said: string[] = [];
    session.subscribe(({ announcements }) =>
      said.push(...announcements.map(({ segments }) => segments.join(' '))),
    );
    await say('step done');
    expect(said).toEqual([]);
    await say('step done', 'insert baseplate', 'pin placed', 'confirm', 'wedge one six');
    expect(said).toContain('Guide pin on driver');
    expect(said).toContain('Wedge one six Right?');
    expect(said.some((text) => text.startsWith('Not yet Depth not confirmed'))).toBe(true);
    said.length = 0;
    await say('mute voice', 'confirm');
    expect(said).toEqual([]);
  });
});
