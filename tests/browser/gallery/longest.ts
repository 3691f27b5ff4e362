/**
 * A procedure whose every text is as long as the format allows, to see that none
 * is cut off. Three tracks, so that the line drawing has to make room as well.
 */
import { asId } from '../../../src/domain';
import { createMemoryStore } from '../../../src/record';
import { CaseSession } from '../../../src/session';
import { HandClock } from '../../support/hand-clock';
import { heardPhrase, SAMPLE_SETTINGS } from '../../support/sample-case';
import type { SampleCase } from '../../support/sample-case';

/** Fills a text up to a length with words of usual length. */
export function fill(max: number, start: string): string {
  const words = 'measured reamers along the wider margin under tension before closing again';
  return `${start} ${words} ${words}`.slice(0, max).replace(/ $/, 'd');
}

const step = (id: string, more: object = {}) => ({
  id,
  title: fill(30, 'Connect modular'),
  short: fill(18, 'Humeral'),
  detail: fill(110, 'Hammer'),
  cue: fill(28, 'Trunnion'),
  ...more,
});

const numbers = [14, 18, 22, 26, 30, 34, 38, 42, 46];

function makeProcedure(): object {
  const captures = [
    { kind: 'number', id: 'w', label: fill(20, 'Width'), row: 'Wide width', say: 'w', unit: 'mm', values: numbers },
    { kind: 'choice', id: 'c', label: fill(20, 'Choice'), row: 'Choiceness', say: 'choice',
      options: [
        { id: 'one', label: fill(14, 'Hemispheric'), say: 'first' },
        { id: 'two', label: fill(14, 'Nonlocking'), say: 'second' },
        { id: 'three', label: fill(14, 'Multiaxial'), say: 'third' },
      ] },
    { kind: 'report', id: 'r', label: fill(24, 'Reported'), say: 'report made', reads: fill(60, 'Fully') },
    { kind: 'number', id: 't', label: fill(20, 'Table'), row: 'Table size', say: 'table number wanted', unit: 'deg', values: numbers },
    ...Array.from({ length: 10 }, (_, index) => ({
      kind: 'number', id: `n-${index}`, label: `Extra number ${index}`, row: `Number ${index}`, say: 'extra', unit: 'mm', values: [1, 2],
    })),
  ]; // prettier-ignore
  const others = Array.from({ length: 10 }, (_, index) =>
    step(`s-${index}`, { captures: [`n-${index}`] }),
  );
  return {
    format: 1,
    id: 'longest',
    title: fill(60, 'Longest'),
    short: fill(22, 'Longest'),
    note: 'Made to test the wall.',
    holdReasons: [{ id: 'h', label: fill(24, 'Held'), say: 'longest' }],
    captures,
    tracks: [
      {
        id: 'field',
        title: fill(14, 'Field'),
        doneSay: 'step done',
        backSay: 'go back',
        phases: [
          {
            id: 'p',
            title: fill(18, 'Phase'),
            usualMin: 12.5,
            steps: [
              step('a'),
              step('b', { captures: ['w', 'c', 'r'] }),
              step('d', { begins: 'said', say: 'go on with it' }),
              ...others,
            ],
          },
        ],
      },
      {
        id: 'table',
        title: fill(14, 'Table'),
        doneSay: 'table done',
        backSay: 'table back',
        phases: [{ id: 'q', title: 'Table', steps: [step('e', { captures: ['t'] }), step('f')] }],
      },
      {
        id: 'third',
        title: fill(14, 'Third'),
        doneSay: 'third done',
        backSay: 'third back',
        phases: [{ id: 'z', title: 'Third', steps: [step('g'), step('h')] }],
      },
    ],
    holdPoints: [
      {
        id: 'hold',
        title: fill(20, 'Passage'),
        reason: fill(120, 'Because'),
        guards: { type: 'step', step: 'd' },
        needs: [
          { type: 'confirmed', capture: 'w', missing: fill(40, 'Width'), met: fill(40, 'Width met') },
          { type: 'confirmed', capture: 't', missing: fill(40, 'Table'), met: fill(40, 'Table met') },
          { type: 'finished', step: 'f', missing: fill(40, 'Fetch'), met: fill(40, 'Fetch met') },
          { type: 'finished', step: 'h', missing: fill(40, 'Hand'), met: fill(40, 'Hand met') },
          { type: 'confirmed', capture: 'r', missing: fill(40, 'Report'), met: fill(40, 'Report met') },
        ],
      },
    ],
  }; // prettier-ignore
}

/** Opens a case with the longest texts. */
export async function openLongestCase(): Promise<SampleCase> {
  const clock = new HandClock();
  const store = createMemoryStore();
  const ports = { store, clock, scheduler: clock, run: asId<never>('run-1') };
  const opened = await CaseSession.open(ports, SAMPLE_SETTINGS, asId('case-longest'), {
    procedureId: asId('longest'),
    procedure: makeProcedure(),
    mode: 'rehearsal',
    side: 'right',
    roles: [],
    plan: { w: 22, c: 'one' },
  });
  if (!opened.ok) throw new Error(JSON.stringify(opened.error));
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
