/** The line drawing: what is in its window and what is said of the rest. */
import { expect, test } from 'vitest';
import { asId } from '../../src/domain';
import type { CaseView } from '../../src/session';
import { layoutLine } from '../../src/ui/wall/wall-line';
import type { LineLayout, StepRow } from '../../src/ui/wall/wall-line';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';

const HEIGHT = 644;
const AT_DEPTH = WHOLE_CASE.slice(0, WHOLE_CASE.indexOf('insert baseplate'));

async function viewAfter(...words: readonly string[]): Promise<CaseView> {
  const { session, say } = await openSampleCase();
  await say(...words);
  return session.view;
}

function draw({ tracks, holdPoints, heldAttempt }: CaseView, height = HEIGHT): LineLayout {
  return layoutLine({ tracks, holdPoints, refusedAt: heldAttempt?.holdPoint ?? null }, height);
}

const stepsOf = ({ rows }: LineLayout) => rows.filter((row): row is StepRow => row.kind === 'step');
const textsOf = ({ rows }: LineLayout) =>
  rows.flatMap((row) => (row.kind === 'step' ? [] : [row.text]));

test('[WAL15] after every word of a case the step in hand of each track is in the window', async () => {
  const { session, say } = await openSampleCase();
  for (const words of WHOLE_CASE) {
    await say(words);
    const { view } = session;
    const layout = draw(view);
    for (const { current } of view.tracks) {
      const isDrawn = stepsOf(layout).some(({ step, isNow }) => isNow && step.id === current?.step);
      expect(isDrawn).toBe(current !== null);
    }
  }
});

test('[WAL15] rows keep apart and stay inside, and the window tells how much lies beyond', async () => {
  const { session, say } = await openSampleCase();
  for (const words of WHOLE_CASE) {
    await say(words);
    const { view } = session;
    const layout = draw(view);
    const heights = layout.rows.map(({ y }) => y).sort((a, b) => a - b);
    heights.slice(1).forEach((y, index) => {
      expect(y - (heights[index] ?? 0)).toBeGreaterThanOrEqual(40);
    });
    expect(heights.at(-1)).toBeLessThanOrEqual(HEIGHT - 20);
    const beyond = textsOf(layout).flatMap(
      (text) => /^(\d+) (?:before|more ahead)$/.exec(text)?.[1] ?? [],
    );
    const all = view.tracks.reduce((sum, { steps }) => sum + steps.length, 0);
    const told = beyond.reduce((sum, count) => sum + Number(count), 0);
    expect(stepsOf(layout).length + told).toBe(all);
  }
});

test('[WAL15] a higher screen shows more steps', async () => {
  const view = await viewAfter(...AT_DEPTH);
  expect(stepsOf(draw(view, 900)).length).toBeGreaterThan(stepsOf(draw(view)).length);
});

test('[WAL16] a closed hold point carries the number missing, a refusal stays marked', async () => {
  expect(textsOf(draw(await viewAfter(...AT_DEPTH)))).toContain('Hold: 3 missing');
  const refused = draw(await viewAfter(...AT_DEPTH, 'insert baseplate', '+60'));
  expect(textsOf(refused)).toContain('Not yet: 3 missing');
});

test('[WAL16] an override stays marked, also once the step is done', async () => {
  const { session, say } = await openSampleCase();
  await say(...AT_DEPTH);
  const holdPoint = asId<never>('post-drill');
  await session.submit({ type: 'override.request', holdPoint, reason: 'By eye' }, 'desk');
  await session.submit({ type: 'override.confirm' }, 'desk');
  expect(textsOf(draw(session.view))).toContain('Overridden');
  await say('depth two four', 'confirm', 'step done');
  expect(session.view.tracks[0]?.current?.step).toBe('pull-pin');
  expect(textsOf(draw(session.view))).toContain('Overridden');
});

test('[WAL17] a loop is drawn with how often it was run, also when it leaves the window', async () => {
  const until = WHOLE_CASE.indexOf('trial seats evenly');
  const { arcs } = draw(await viewAfter(...WHOLE_CASE.slice(0, until)));
  expect(arcs).toMatchObject([{ track: 0, rounds: 2 }]);
  expect(arcs[0]?.to).toBeLessThan(arcs[0]?.from ?? 0);
  const later = draw(await viewAfter(...AT_DEPTH));
  expect(later.arcs).toMatchObject([{ rounds: 2, to: null }]);
});
