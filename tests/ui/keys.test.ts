/** The key map, against states of the flagship reached by words. */
import fc from 'fast-check';
import { beforeEach, describe, expect, test } from 'vitest';
import type { CaseView } from '../../src/session';
import { KEYS, MIN_READ_MS, keyToAction } from '../../src/ui/parts/keys';
import type { KeyContext, KeyPress } from '../../src/ui/parts/keys';
import { openSampleCase, WHOLE_CASE } from '../support/sample-case';
import type { SampleCase } from '../support/sample-case';

const PRESS: KeyPress = {
  key: '',
  shiftKey: false,
  isChord: false,
  repeat: false,
  isInField: false,
  isOnControl: false,
};

const ORDINARY_KEYS = [
  ...'abcdefghijklmnopqrstuvwxyz0123456789 .,-/',
  'Enter', 'Escape', 'Backspace', 'Tab', 'PageUp', 'PageDown', 'ArrowDown', 'Delete', 'F5',
]; // prettier-ignore

let sample: SampleCase;
beforeEach(async () => {
  sample = await openSampleCase();
});

/** Speaks the case up to the phrase, without it. */
async function goTo(phrase: string): Promise<void> {
  await sample.say(...WHOLE_CASE.slice(0, WHOLE_CASE.indexOf(phrase)));
}

function contextOf(view: CaseView, extra: Partial<KeyContext> = {}): KeyContext {
  return {
    view,
    typed: '',
    target: view.wanted[0] ?? null,
    isHoldAsked: false,
    checkLine: null,
    countLine: null,
    isCounting: false,
    readBackOpenMs: view.readBack ? MIN_READ_MS : null,
    ...extra,
  };
}

function press(key: string, extra: Partial<KeyPress> = {}, context: Partial<KeyContext> = {}) {
  return keyToAction({ ...PRESS, key, ...extra }, contextOf(sample.session.view, context));
}

const desk = (order: object) => ({ kind: 'order', order, source: 'desk' });

describe('confirming by key', () => {
  test('[DSK1] no key confirms anything without an open read-back', async () => {
    await goTo('depth two four');
    for (const key of ORDINARY_KEYS) {
      for (const shiftKey of [false, true]) {
        const action = press(key, { shiftKey }, { readBackOpenMs: null });
        expect(action?.kind === 'order' && action.order.type).not.toBe('capture.confirm');
      }
    }
  });

  test('[DSK1] of all keys only Enter and the confirm pedal confirm an open read-back', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    const confirming = ORDINARY_KEYS.filter((key) => {
      const action = press(key);
      return action?.kind === 'order' && action.order.type === 'capture.confirm';
    });
    expect(confirming).toEqual(['Enter', 'PageUp']);
    expect(press('Enter')).toEqual(desk({ type: 'capture.confirm' }));
  });

  test('[DSK2] a read-back that could not have been read yet is not confirmed by a key', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    const young = { readBackOpenMs: MIN_READ_MS - 1 };
    expect(press('Enter', {}, young)).toBeNull();
    expect(press('PageUp', {}, young)).toBeNull();
  });

  test('[DSK2] a key that is held down does nothing again', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    for (const key of ORDINARY_KEYS) expect(press(key, { repeat: true })).toBeNull();
  });

  test('[DSK3] Escape cancels an open read-back; typed digits first', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    expect(press('Escape', {}, { typed: '28' })).toEqual({ kind: 'clear' });
    expect(press('Escape')).toEqual(desk({ type: 'capture.withdraw' }));
  });
});

describe('typing a value', () => {
  test('[DSK4] digits are collected and offered by Enter, never confirmed by it', async () => {
    await goTo('depth two four');
    expect(press('2')).toEqual({ kind: 'type', typed: '2' });
    expect(press('4', {}, { typed: '2' })).toEqual({ kind: 'type', typed: '24' });
    expect(press('Enter', {}, { typed: '24' })).toEqual(
      desk({ type: 'capture.offer', capture: 'depth', value: 24 }),
    );
  });

  test('[DSK4] with a read-back open, typed digits correct it', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    expect(press('Enter', {}, { typed: '28' })).toEqual(
      desk({ type: 'capture.offer', capture: 'depth', value: 28 }),
    );
  });

  test('[DSK4] no more than four digits, and none where nothing is wanted', () => {
    expect(press('1', {}, { typed: '1234' })).toBeNull();
    expect(press('1', {}, { target: null })).toBeNull();
  });
});

describe('where keys do nothing', () => {
  test('[DSK5] typing in a field and key chords are left alone', async () => {
    await goTo('depth two four');
    const keys = ORDINARY_KEYS.filter((key) => !key.startsWith('Page'));
    for (const key of keys) {
      expect(press(key, { isInField: true })).toBeNull();
      expect(press(key, { isChord: true })).toBeNull();
    }
  });

  test('[DSK5] Enter and Space on a button belong to the button; Space does nothing anywhere', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    expect(press('Enter', { isOnControl: true })).toBeNull();
    expect(press(' ', { isOnControl: true })).toBeNull();
    expect(press(' ')).toBeNull();
  });

  test('[DSK5] a closed case takes no key', async () => {
    await sample.session.submit({ type: 'case.close', outcome: 'abandoned' }, 'desk');
    for (const key of ORDINARY_KEYS) expect(press(key)).toBeNull();
  });
});

describe('commands', () => {
  test('[DSK6] every button has its key', async () => {
    expect(press('d')).toEqual(desk({ type: 'step.finish', track: 'field' }));
    expect(press('D', { shiftKey: false })).toEqual(desk({ type: 'step.finish', track: 'field' }));
    expect(press('t')).toEqual(desk({ type: 'step.finish', track: 'table' }));
    expect(press('b')).toEqual(desk({ type: 'step.goBack', track: 'field' }));
    expect(press('B', { shiftKey: true })).toEqual(desk({ type: 'step.goBack', track: 'table' }));
    expect(press('n')).toEqual(desk({ type: 'question.ask', question: 'next' }));
    expect(press('r')).toEqual(desk({ type: 'question.ask', question: 'repeat' }));
    expect(press('z')).toEqual(desk({ type: 'question.ask', question: 'sizes' }));
    expect(press('m')).toEqual(desk({ type: 'announcer.mute' }));
    expect(press('l')).toEqual({ kind: 'toggle-ear' });
    expect(press('w')).toEqual({ kind: 'next-target' });
    await sample.say('mute voice');
    expect(press('m')).toEqual(desk({ type: 'announcer.unmute' }));
  });

  test('[DSK6] a waiting step begins by its key, also where a hold point will refuse it', async () => {
    expect(press('S', { shiftKey: true })).toMatchObject({ order: { type: 'step.begin' } });
    expect(press('s')).toBeNull();
  });

  test('[DSK6] a group that can be ended is ended by its key, another is not', async () => {
    expect(press('e')).toBeNull();
    await goTo('no more screws');
    expect(press('e')).toEqual(desk({ type: 'group.finish', group: 'screw' }));
  });

  test('[DSK7] the clock is held with a reason only, and resumed by the same key', async () => {
    expect(press('h')).toEqual({ kind: 'ask-hold' });
    expect(press('2', {}, { isHoldAsked: true })).toEqual(
      desk({ type: 'clock.hold', reason: 'Instrument' }),
    );
    expect(press('9', {}, { isHoldAsked: true })).toBeNull();
    await sample.say('hold for imaging');
    expect(press('h')).toEqual(desk({ type: 'clock.resume' }));
  });

  test('[DSK8] a pedal is a key, named as the source, also while somebody types', () => {
    const done = { kind: 'order', order: { type: 'step.finish', track: 'field' }, source: 'pedal' };
    expect(press('PageDown')).toEqual(done);
    expect(press('PageDown', { isInField: true })).toEqual(done);
    expect(press('PageUp')).toBeNull();
  });

  test('[DSK8] the confirm pedal confirms an open read-back and does nothing else', async () => {
    await goTo('depth two four');
    await sample.say('depth two four');
    expect(press('PageUp')).toMatchObject({ order: { type: 'capture.confirm' }, source: 'pedal' });
  });

  test('[DSK9] no key grants an override or leaves a step out', async () => {
    await goTo('insert baseplate');
    const baseplate = sample.session.view.holdPoints.find(({ title }) => title === 'Baseplate');
    if (!baseplate) throw new Error('The flagship holds the baseplate');
    await sample.session.submit(
      { type: 'override.request', holdPoint: baseplate.id, reason: 'x' },
      'desk',
    );
    expect(sample.session.view.overrideAsked).not.toBeNull();
    const given = ORDINARY_KEYS.flatMap((key) => {
      const action = press(key);
      return action?.kind === 'order' ? [action.order.type] : [];
    });
    expect(given).not.toContain('override.confirm');
    expect(given).not.toContain('override.request');
    expect(given).not.toContain('step.skip');
    expect(press('Escape')).toEqual(desk({ type: 'override.withdraw' }));
  });

  test('[DSK6] no two buttons share a key', () => {
    const all = [...Object.values(KEYS), 'D', 'S', 'B', 'T', '⇧S', '⇧B'];
    expect(new Set(all).size).toBe(all.length);
  });
});

test('[DSK1] whatever is pressed in whatever state, the map never throws and never confirms without a read-back', async () => {
  const views: CaseView[] = [];
  for (const phrase of WHOLE_CASE) {
    await sample.say(phrase);
    views.push(sample.session.view);
  }
  fc.assert(
    fc.property(
      fc.constantFrom(...views),
      fc.oneof(fc.constantFrom(...ORDINARY_KEYS), fc.string({ maxLength: 3 })),
      fc.record({ shiftKey: fc.boolean(), isOnControl: fc.boolean(), isInField: fc.boolean() }),
      fc.string({ maxLength: 5 }),
      (view, key, where, typed) => {
        const action = keyToAction({ ...PRESS, key, ...where }, contextOf(view, { typed }));
        const isConfirm = action?.kind === 'order' && action.order.type === 'capture.confirm';
        expect(isConfirm && view.readBack === null).toBe(false);
      },
    ),
  );
});
