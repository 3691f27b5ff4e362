/** The drawing of a whole operation: what is in it, where it lies, what the table says. */
import { describe, expect, test } from 'vitest';
import { compileProcedure, checkProcedure, listBuiltIn, loadBuiltIn } from '../../src/procedure';
import { describeBuiltIn, sketchProcedure } from '../../src/session';
import type { ProcedureSketch } from '../../src/session';
import { findStep, layOutDrawing } from '../../src/ui/procedures/drawing';
import { assignLanes } from '../../src/ui/procedures/drawing-lanes';
import { textLeft } from '../../src/ui/procedures/drawing-blocks';
import { widthOf, wrap } from '../../src/ui/procedures/drawing-measures';
import { quietBands } from '../../src/ui/procedures/quiet-bands';
import { listRows } from '../../src/ui/procedures/table-rows';
import { SHORT_PROCEDURE } from '../browser/desk-procedure';

const BUILT_IN = listBuiltIn().map(({ id }) => id);
/** A laptop, a wall, and the place beside a dry run. */
const WIDTHS = [1302, 1496, 796];

function sketchOf(data: unknown): ProcedureSketch {
  const sketched = sketchProcedure(data);
  if (!sketched.ok) throw new Error(sketched.error.code);
  return sketched.value;
}

function builtIn(id: string): ProcedureSketch {
  const card = describeBuiltIn(id);
  if (!card.ok) throw new Error(card.error.code);
  return sketchOf(card.value.data);
}

/** The upright stretches of a path of moves, level and upright lines and bends. */
function uprightsOf(
  d: string,
): readonly { readonly x: number; readonly from: number; readonly to: number }[] {
  const found: { x: number; from: number; to: number }[] = [];
  let [x, y] = [0, 0];
  for (const [, letter = '', rest = ''] of d.matchAll(/([MHVQ])([^MHVQ]*)/g)) {
    const numbers = rest.trim().split(/ +/).map(Number);
    const toX = letter === 'V' ? x : ((letter === 'H' ? numbers[0] : numbers.at(-2)) ?? x);
    const toY = letter === 'H' ? y : (numbers.at(-1) ?? y);
    if (letter === 'V') found.push({ x, from: Math.min(y, toY), to: Math.max(y, toY) });
    [x, y] = [toX, toY];
  }
  return found;
}

const stepsOf = (sketch: ProcedureSketch) =>
  sketch.tracks.flatMap(({ phases }) => phases.flatMap(({ steps }) => steps));

describe.each(BUILT_IN)('%s', (id) => {
  const sketch = builtIn(id);
  const loaded = loadBuiltIn(id);
  if (!loaded.ok) throw new Error(loaded.error.code);
  const compiled = loaded.value;

  test('[PRC5] its sketch goes where the machine goes', () => {
    const all = stepsOf(sketch);
    expect(all.map((step) => step.id).sort()).toEqual([...compiled.steps.keys()].sort());
    const states: Readonly<
      Record<
        string,
        | {
            readonly states: Readonly<
              Record<string, { readonly config: { readonly on?: unknown } }>
            >;
          }
        | undefined
      >
    > = compiled.machine.root.states['running']?.states ?? {};
    for (const track of sketch.tracks) {
      const region = states[track.id];
      for (const step of track.phases.flatMap(({ steps }) => steps)) {
        const finished = region?.states[`do:${step.id}`]?.config.on as Record<string, unknown>;
        const targets = (finished['step.finished'] as { target: string }[]).map(
          ({ target }) => target,
        );
        expect(targets).toEqual([
          ...(step.loop ? [`wait:${step.loop.backTo}`] : []),
          step.next === null ? 'done' : `wait:${step.next}`,
        ]);
        expect('alternative.chosen' in finished).toBe(
          track.alternatives.some(({ at }) => at.includes(step.id)),
        );
        expect('step.leftOut' in finished).toBe(step.optional !== null);
      }
    }
    const holds = all.flatMap(({ holds }) => holds.map((hold) => hold.id));
    expect([...holds].sort()).toEqual([...compiled.holdPoints.keys()].sort());
  });

  test.each(WIDTHS)('[PRC6] nothing overlaps at a width of %d', (width) => {
    const { columns, height, lines } = layOutDrawing(sketch, width);
    const keys = columns.flatMap(({ blocks }) => blocks.map(({ key }) => key));
    expect(new Set(keys).size).toBe(keys.length);
    expect(new Set(lines.map(({ key }) => key)).size).toBe(lines.length);
    for (const { x, right, lineX, blocks } of columns) {
      expect(lineX).toBeGreaterThan(x);
      expect(right).toBeLessThanOrEqual(width + 0.001);
      for (const [index, block] of blocks.entries()) {
        const next = blocks[index + 1];
        expect(next ? next.y : height).toBeGreaterThanOrEqual(block.y + block.height);
      }
    }
  });

  test.each(WIDTHS)('[PRC15] no other way runs through a text at a width of %d', (width) => {
    const { columns, lines } = layOutDrawing(sketch, width);
    const ways = lines.filter(({ kind }) => kind === 'branch' || kind === 'way');
    expect(ways).toHaveLength(2 * sketch.tracks.flatMap((track) => track.alternatives).length);
    for (const { key, d } of ways) {
      const id = key.split('/')[1];
      const column = columns.find(({ blocks }) => blocks.some(({ branch }) => branch === id));
      if (!column) throw new Error(`No column has the way "${key}"`);
      for (const { x, from, to } of uprightsOf(d)) {
        const crossed = column.blocks.filter(
          (block) =>
            block.kind !== 'end' &&
            textLeft(column.lineX, block.branch) <= x &&
            // A heading begins with empty space, in which a way may join.
            block.y + (block.kind === 'phase' ? 20 : 0) < to &&
            block.y + block.height > from,
        );
        expect(crossed.map((block) => block.key)).toEqual([]);
      }
    }
  });

  test('[PRC7] what feeds a hold point from another track lies above it, with a line', () => {
    const { columns, lines } = layOutDrawing(sketch, 1302);
    let feeds = 0;
    for (const [place, { blocks }] of columns.entries()) {
      for (const hold of blocks) {
        if (hold.kind !== 'hold') continue;
        for (const [index, { from }] of hold.conditions.entries()) {
          const feeder = from === null ? null : findStep(columns, from);
          if (!feeder || feeder.index === place) continue;
          feeds += 1;
          expect(feeder.block.y).toBeLessThan(hold.y);
          expect(lines.map(({ key }) => key)).toContain(`${hold.key}/${index}`);
        }
      }
    }
    expect(lines.filter(({ kind }) => kind === 'feed')).toHaveLength(feeds);
    expect(feeds).toBeGreaterThan(0);
  });

  test('[PRC9] the table has a row a step and names every hold point', () => {
    const rows = sketch.tracks.flatMap((track) => listRows(sketch, track));
    expect(rows).toHaveLength(compiled.steps.size);
    const held = rows.flatMap((row) => row.held).join('\n');
    for (const { reason } of compiled.holdPoints.values()) expect(held).toContain(reason);
  });
});

test('[PRC5] a hold point names the step that feeds each of its conditions', () => {
  const insert = stepsOf(sketchOf(SHORT_PROCEDURE)).find(({ id }) => id === 'insert');
  expect(insert?.holds[0]?.conditions).toEqual([
    { text: 'Depth confirmed', unless: null, from: 'measure' },
    { text: 'Pin out', unless: null, from: 'pull' },
  ]);
  expect(insert?.beginSay).toBe('insert baseplate');
});

test('[PRC7] tracks that wait for each other in a circle are drawn all the same', () => {
  const circle = {
    ...SHORT_PROCEDURE,
    holdPoints: [
      ...SHORT_PROCEDURE.holdPoints,
      {
        id: 'table',
        title: 'Pin',
        reason: 'Each waits for the other.',
        guards: { type: 'step', step: 'pull' },
        needs: [{ type: 'finished', step: 'insert', missing: 'Not in', met: 'In' }],
      },
    ],
  };
  expect(checkProcedure(circle).ok).toBe(true);
  const { columns, height } = layOutDrawing(sketchOf(circle), 1302);
  expect(findStep(columns, stepsOf(sketchOf(circle))[0]?.id as never)).not.toBeNull();
  expect(height).toBeLessThan(3000);
});

test('[PRC6] a quiet phase is marked from its heading to the next', () => {
  const [first, ...others] = SHORT_PROCEDURE.tracks;
  const [work] = first.phases;
  const quiet = {
    ...SHORT_PROCEDURE,
    tracks: [{ ...first, phases: [{ ...work, quiet: true }] }, ...others],
  };
  const { columns } = layOutDrawing(sketchOf(quiet), 1302);
  expect(columns.map((column) => quietBands(column).length)).toEqual([1, 0]);
});

test('[PRC6] texts are broken to the width and lose no word', () => {
  const text = 'Can be chosen from the first step to the last one of all';
  const lines = wrap(text, 120, 14);
  expect(lines.join(' ')).toBe(text);
  expect(lines.length).toBeGreaterThan(2);
  for (const line of lines) expect(widthOf(line, 14)).toBeLessThanOrEqual(120);
});

test('[PRC8] ways side by side take lanes of their own, others share', () => {
  const { lanes, laneOf } = assignLanes([
    { from: 0, to: 5 },
    { from: 1, to: 2 },
    { from: 7, to: 9 },
  ]);
  expect(lanes).toHaveLength(2);
  expect(laneOf(0)).not.toBe(laneOf(1));
  expect(laneOf(1)).toBe(laneOf(2));
});

test('[PRC5] a procedure with a range of phases compiles to the machine it is drawn from', () => {
  const checked = checkProcedure(SHORT_PROCEDURE);
  if (!checked.ok) throw new Error('The short procedure is at fault');
  expect(stepsOf(sketchOf(SHORT_PROCEDURE)).map(({ id }) => id)).toEqual([
    ...compileProcedure(checked.value).steps.keys(),
  ]);
});
