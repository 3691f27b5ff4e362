/** The implant log: packs from scan to patient, decided and folded as a case does it. */
import { expect, test } from 'vitest';
import { faultToOperatorText, fault } from '../../src/domain';
import type { ImplantFact, ImplantOrder, Side, Source } from '../../src/domain';
import { readScan } from '../../src/labels';
import {
  addToImplantLog,
  catalogueFor,
  decideImplantOrder,
  emptyImplantLog,
  packTitle,
  reconcile,
} from '../../src/sizing';
import type { Catalogue, Chosen, ImplantLog } from '../../src/sizing';

function shoulder(): Catalogue {
  const found = catalogueFor('reverse-shoulder-glenoid');
  if (!found) throw new Error('no catalogue');
  return found;
}
const catalogue = shoulder();
const TODAY = '2026-11-25';

/** The label of an article of Example S, as a scanner sends it. */
function labelOf(article: string, more = '17271130\u001d10LOT1'): string {
  const number = catalogue.components
    .map(({ numbers }) => numbers[article]?.[0])
    .find((found) => found);
  if (!number) throw new Error(article);
  return `]d201${number}${more.replace('\u001d', '')}`;
}

class Room {
  log: ImplantLog = emptyImplantLog();
  confirmed: Chosen = {};
  side: Side = 'right';
  facts: ImplantFact[] = [];

  order(order: ImplantOrder, source: Source = 'desk'): string | null {
    const read =
      order.type === 'label.scan'
        ? readScan(order.text, { prefix: '', suffix: '', separator: '', thisYear: 2026 })
        : null;
    if (read && !read.ok) return read.error.code;
    const context = {
      catalogue,
      log: this.log,
      confirmed: this.confirmed,
      side: this.side,
      today: TODAY,
    };
    const decided = decideImplantOrder(context, order, source, read?.value ?? null);
    if (!decided.ok) return decided.error.code;
    for (const fact of decided.value) {
      this.facts.push(fact);
      this.log = addToImplantLog(this.log, fact);
    }
    return null;
  }

  scan(text: string, isAnother = false): readonly string[] {
    expect(this.order({ type: 'label.scan', text, isAnother }, 'scanner')).toBeNull();
    return this.last.findings.map(({ code }) => code);
  }

  move(event: 'opened' | 'implanted' | 'wasted' | 'returned', reason = ''): string | null {
    return this.order({ type: 'pack.move', pack: this.last.id, event, reason });
  }

  get last() {
    const pack = this.log.packs.find(({ id }) => id === this.log.lastScan);
    if (!pack) throw new Error('nothing scanned');
    return pack;
  }

  says(): readonly string[] {
    return this.last.findings.map(
      ({ code, params }) => faultToOperatorText(fault(code, params)).happened,
    );
  }
}

function room(confirmed: Chosen = {}): Room {
  const made = new Room();
  made.confirmed = confirmed;
  return made;
}

test('[IMP1] a pack of the confirmed size, this side and in date is clear, opens and goes in', () => {
  const at = room({ wedge: 24, plate: 'small' });
  expect(at.scan(labelOf('baseplate-24-small-right'))).toEqual([]);
  expect(at.last).toMatchObject({
    article: 'baseplate-24-small-right',
    slot: 'baseplate',
    state: 'scanned',
  });
  expect([at.move('opened'), at.move('implanted')]).toEqual([null, null]);
  expect(at.last.state).toBe('implanted');
  expect(at.facts[0]?.type).toBe('catalogue.adopted');
  expect(at.facts.filter(({ type }) => type === 'catalogue.adopted')).toHaveLength(1);
});

test('[IMP2] the wrong side is caught in words, and stays closed', () => {
  const at = room({ wedge: 24, plate: 'small' });
  expect(at.scan(labelOf('baseplate-24-small-left'))).toEqual(['pack-wrong-side']);
  expect(at.says()).toEqual([
    'Baseplate 24°, small, left is for the left side; this is a right one',
  ]);
  expect(at.move('opened')).toBe('pack-stopped');
});

test('[IMP2] an expired pack is caught from the day after; on its last day it is in date', () => {
  const at = room({ depth: 24, post: 24 });
  expect(at.scan(labelOf('post-24', '1726112410A'))).toEqual(['pack-expired']);
  expect(at.says()).toEqual(['Post 24 mm expired on 2026-11-24; today is 2026-11-25']);
  expect(at.move('opened')).toBe('pack-stopped');
  expect(at.scan(labelOf('post-24', '1726112510B'))).toEqual([]);
  expect(at.scan(labelOf('post-24', '10C'))).toEqual(['pack-no-date']);
});

test('[IMP2] a 28 mm post after a depth of 24 is caught, before and after a post was confirmed', () => {
  const before = room({ depth: 24 });
  expect(before.scan(labelOf('post-28'))).toEqual(['pack-does-not-fit', 'pack-not-confirmed']);
  expect(before.says()[0]).toBe(
    'Post 28 mm does not go with Post drill 24: The post is as long as the hole was drilled deep',
  );
  expect(before.last.findings[0]?.params.expected).toBe('24 mm');
  expect(before.move('opened')).toBe('pack-stopped');
  const after = room({ depth: 24, post: 24 });
  expect(after.scan(labelOf('post-28'))).toEqual(['pack-other-size', 'pack-does-not-fit']);
  expect(after.says()[0]).toBe('Post 28 mm is not the confirmed size: Post 24 mm');
});

test('[IMP2] a used pack is caught: implanted, wasted or open', () => {
  const at = room({ depth: 24, post: 24 });
  for (const event of ['opened', 'implanted'] as const) {
    at.scan(`${labelOf('post-24', '17271130')}10L1\u001d21S1`);
    expect(at.move(event)).toBeNull();
    expect(at.scan(`${labelOf('post-24', '17271130')}10L1\u001d21S1`)).toEqual(['pack-used']);
  }
  expect(at.log.packs).toHaveLength(1);
  expect(at.says()[0]).toContain('already implanted in this case');
});

test('[IMP3] a stopped pack opens with a reason, which stays', () => {
  const at = room({ wedge: 24, plate: 'small' });
  at.scan(labelOf('baseplate-24-small-left'));
  expect(at.move('opened', 'none other in the house')).toBeNull();
  expect(at.last.reason).toBe('none other in the house');
});

test('[IMP3] what was found is judged anew when a pack is opened', () => {
  const at = room({});
  expect(at.scan(labelOf('post-28'))).toEqual(['pack-not-confirmed']);
  at.confirmed = { depth: 24, post: 24 };
  expect(at.move('opened')).toBe('pack-stopped');
});

test('[IMP4] two scans of one pack are one pack; another of the same lot is another', () => {
  const at = room({
    'screw-1-kind': 'locking',
    'screw-1-length': 26,
    'screw-2-kind': 'locking',
    'screw-2-length': 26,
  });
  const screw = labelOf('screw-locking-26');
  expect(at.scan(screw)).toEqual([]);
  expect(at.scan(screw)).toEqual([]);
  expect(at.log.packs.map(({ scans }) => scans)).toEqual([2]);
  at.move('opened');
  expect(at.scan(screw, true)).toEqual([]);
  expect(at.log.packs).toHaveLength(2);
  expect(at.log.packs.map(({ slot }) => slot)).toEqual(['screw-1', 'screw-2']);
});

test('[IMP4] with a serial number another scan is never another pack', () => {
  const at = room({ depth: 24, post: 24 });
  const serial = `${labelOf('post-24', '17271130')}10L1\u001d21S1`;
  at.scan(serial);
  at.scan(serial, true);
  expect(at.log.packs).toHaveLength(1);
});

test('[IMP5] opened packs are implanted or wasted; waste has a reason; closed ones can go back', () => {
  const at = room({ depth: 24, post: 24 });
  at.scan(labelOf('post-24'));
  expect(at.move('implanted')).toBe('pack-not-so');
  expect(at.move('returned')).toBeNull();
  expect(at.move('opened')).toBeNull();
  expect(at.move('returned')).toBe('pack-not-so');
  expect(at.move('wasted', '  ')).toBe('pack-needs-reason');
  expect(at.move('wasted', 'dropped')).toBeNull();
  expect(at.last).toMatchObject({ state: 'wasted', reason: 'dropped' });
  expect(at.order({ type: 'pack.move', pack: 'none', event: 'opened', reason: '' })).toBe(
    'pack-unknown',
  );
});

test('[IMP5] packs are moved at the desk or by the scanner, never by voice or pedal', () => {
  const at = room({ depth: 24 });
  for (const source of ['voice', 'pedal'] as const) {
    expect(
      at.order({ type: 'label.scan', text: labelOf('post-24'), isAnother: false }, source),
    ).toBe('pack-only-at-desk');
  }
  expect(at.facts).toEqual([]);
});

test('[IMP6] confirmed without a pack, and a pack without a confirmed size, are listed', () => {
  const at = room({ depth: 24, post: 24, sphere: 40, wedge: 24, plate: 'small' });
  at.scan(labelOf('post-24'));
  at.move('opened');
  at.move('implanted');
  at.scan(labelOf('glenosphere-44'));
  at.move('opened', 'chosen at the table');
  const lists = () => reconcile(catalogue, at.log, at.confirmed, at.side);
  expect(lists().notScanned.map(({ title }) => title)).toEqual([
    'Baseplate 24°, small, right',
    'Glenosphere 40 mm',
  ]);
  expect(lists().notConfirmed).toEqual([at.last.id]);
  expect(lists().unsettled).toEqual([at.last.id]);
  at.confirmed = { ...at.confirmed, sphere: 44 };
  expect(lists()).toMatchObject({ notScanned: [{ slot: 'baseplate' }], notConfirmed: [] });
});

test('[IMP7] a number that is not known is asked about once, and known from then on', () => {
  const at = room({ 'final-stem': 10 });
  const label = '(01)05012345678900(17)271130(10)X';
  expect(at.scan(label)).toEqual(['pack-not-known']);
  expect(packTitle(catalogue, at.last)).toBe('05012345678900');
  expect(at.order({ type: 'label.learn', product: '05012345678900', article: 'no-such' })).toBe(
    'unknown-name',
  );
  expect(
    at.order({ type: 'label.learn', product: '05012345678900', article: 'stem-10' }),
  ).toBeNull();
  expect(at.last).toMatchObject({ article: 'stem-10', slot: 'stem', findings: [] });
  expect(packTitle(catalogue, at.last)).toBe('Stem 10 mm');
  expect(at.scan(label.replace('(10)X', '(10)Y'))).toEqual([]);
});

test('[IMP8] stock counts down as packs are opened, and takes whole numbers only', () => {
  const at = room({ depth: 24, post: 24 });
  expect(at.order({ type: 'stock.count', article: 'post-24', count: 1 })).toBeNull();
  expect(at.order({ type: 'stock.count', article: 'post-24', count: -1 })).toBe('stock-not-usable');
  expect(at.order({ type: 'stock.count', article: 'post-24', count: 1.5 })).toBe(
    'stock-not-usable',
  );
  expect(at.order({ type: 'stock.count', article: 'post-25', count: 1 })).toBe('unknown-name');
  at.scan(labelOf('post-24'));
  at.move('opened');
  expect(at.log.stock).toEqual({ 'post-24': 0 });
});

test('[IMP9] the planning sheet is kept as typed; an angle that can’t be is refused', () => {
  const at = room();
  const plan = {
    measure: 'whole-face', nativeVersionDeg: -20, nativeInclinationDeg: 10, targetVersionDeg: 0, targetInclinationDeg: 0,
    wear: 'back and up', allowedErrorDeg: 5,
  } as const; // prettier-ignore
  expect(at.order({ type: 'angles.plan', plan })).toBeNull();
  expect(at.log.plan).toEqual(plan);
  expect(at.order({ type: 'angles.plan', plan: { ...plan, nativeVersionDeg: 90 } })).toBe(
    'angle-not-usable',
  );
  expect(at.order({ type: 'angles.plan', plan: { ...plan, allowedErrorDeg: 0 } })).toBe(
    'angle-not-usable',
  );
  expect(at.order({ type: 'angles.plan', plan: { ...plan, allowedErrorDeg: null } })).toBeNull();
});
