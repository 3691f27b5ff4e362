/** What the middle of the wall says, told by real cases. */
import { describe, expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { Stamp } from '../../src/domain';
import { LapseWatch } from '../../src/ui/wall/lapse-watch.svelte';
import { middleOf, middleToSentence, wantedOf } from '../../src/ui/wall/wall-middle';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';
import type { SampleCase } from '../support/sample-case';

const AT_DEPTH = WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('insert baseplate'));

async function caseAfter(...words: readonly string[]): Promise<SampleCase> {
  const sample = await openSampleCase();
  await sample.say(...words);
  return sample;
}

function nowOf({ clock }: SampleCase): Stamp {
  return { at: clock.wallMs(), mono: clock.monoMs(), run: asId('run-1') };
}

const middle = (sample: SampleCase) => middleOf(sample.session.view, nowOf(sample));

describe('one thing at a time', () => {
  test('[WAL11] the step in hand with the size it wants', async () => {
    const now = middle(await caseAfter(...AT_DEPTH));
    expect(now).toMatchObject({ kind: 'step', isWaiting: false, wanted: { capture: 'depth' } });
    expect(middleToSentence(now)).toBe('Now: Measure the depth. Wanted: Depth.');
  });

  test('[WAL11] a read-back takes over from everything else', async () => {
    const now = middle(await caseAfter(...AT_DEPTH, 'insert baseplate', 'depth two four'));
    expect(now).toMatchObject({ kind: 'read-back', from: '', readBack: { text: '24' } });
    expect(middleToSentence(now)).toBe('Read back: Depth, two four. Right?');
  });

  test('[WAL11] a read-back for another track names that track', async () => {
    const now = middle(await caseAfter(...AT_DEPTH, 'depth two four', 'confirm', 'post two four'));
    expect(now).toMatchObject({ kind: 'read-back', from: 'Back table' });
  });

  test('[WAL11] a held clock, and words that are waited for', async () => {
    const held = middle(await caseAfter(...AT_DEPTH, 'hold for imaging', '+5'));
    expect(held).toMatchObject({
      kind: 'clock-held',
      reason: 'Imaging',
      step: 'Measure the depth',
    });
    const at = WHOLE_CASE.lastIndexOf('insert baseplate');
    const waiting = middle(await caseAfter(...WHOLE_CASE.slice(0, at)));
    expect(waiting).toMatchObject({ kind: 'step', isWaiting: true, wanted: null });
    expect(middleToSentence(waiting)).toBe('Ready: Insert the baseplate.');
  });

  test('[WAL11] the end: complete, then closed', async () => {
    const sample = await caseAfter(...WHOLE_CASE);
    expect(middle(sample).kind).toBe('complete');
    await sample.session.submit({ type: 'case.close', outcome: 'finished' }, 'desk');
    expect(middle(sample).kind).toBe('closed');
  });

  test('[WAL11] an override that waits for its second confirmation', async () => {
    const sample = await caseAfter(...AT_DEPTH);
    await sample.session.submit(
      { type: 'override.request', holdPoint: asId('baseplate'), reason: 'Seen on the scan' },
      'desk',
    );
    expect(middle(sample)).toMatchObject({
      kind: 'hold',
      text: { heading: 'Override asked: Baseplate' },
    });
  });
});

describe('hold points', () => {
  test('[WAL12] a refusal is large for eight seconds, what is missing first', async () => {
    const sample = await caseAfter(...AT_DEPTH, 'insert baseplate', '+7');
    const refused = middle(sample);
    expect(refused).toMatchObject({ kind: 'hold', text: { heading: 'Not yet: Baseplate' } });
    const conditions = refused.kind === 'hold' ? refused.text.conditions : [];
    expect(conditions.map(({ isMet }) => isMet)).toEqual([false, false, false, true]);
    await sample.say('+1');
    expect(middle(sample)).toMatchObject({ kind: 'step', wanted: { capture: 'depth' } });
  });

  test('[WAL12] a track that stands at a closed hold point says what is missing', async () => {
    const until = WHOLE_CASE.indexOf('reamer ready');
    const held = middle(
      await caseAfter(...WHOLE_CASE.slice(0, until), 'direction ten thirty', 'confirm', '+60'),
    );
    expect(held).toMatchObject({ kind: 'hold', isStanding: true });
    expect(middleToSentence(held)).toBe('Held: Reaming. Reamer not reported ready.');
  });
});

test('[WAL13] what the back table wants at the same time is found as well', async () => {
  const until = WHOLE_CASE.indexOf('plate small');
  const { view } = (await caseAfter(...WHOLE_CASE.slice(0, until))).session;
  const wanted = view.tracks.map((track) => wantedOf(view, track)?.capture);
  expect(wanted).toEqual(['depth', 'plate']);
});

describe('a read-back that ran out', () => {
  async function watchUntil(...words: readonly string[]) {
    const sample = await caseAfter(...AT_DEPTH, 'depth two four');
    const watch = new LapseWatch();
    watch.follow(sample.session.view, nowOf(sample));
    sample.session.subscribe(({ view }) => {
      watch.follow(view, nowOf(sample));
    });
    await sample.say(...words);
    // The lapse is carried out in its turn, after the words; wait for that turn.
    await sample.session.submit({ type: 'question.ask', question: 'next' }, 'desk');
    return { sample, watch };
  }

  test('[WAL14] is named for eight seconds after it lapsed', async () => {
    const { sample, watch } = await watchUntil('+12');
    expect(sample.session.view.readBack).toBeNull();
    expect(watch.shown(nowOf(sample))).toMatchObject({ capture: 'depth', text: '24' });
    await sample.say('+8');
    expect(watch.shown(nowOf(sample))).toBeNull();
  });

  test('[WAL14] is not named when it was confirmed or taken back', async () => {
    for (const answer of ['confirm', 'wrong cancel that']) {
      const { sample, watch } = await watchUntil('+3', answer);
      expect(watch.shown(nowOf(sample))).toBeNull();
    }
  });
});
