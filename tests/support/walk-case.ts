/**
 * Walks a case of any procedure forward by desk orders, giving each thing that is wanted a
 * value, until a step is in hand. For tests and pictures of states far into a case.
 */
import type { Order, RoomOrder } from '../../src/domain';
import { expiryAfter, packOrders } from '../../src/session';
import { catalogueFor } from '../../src/sizing';
import type { CaseView, WantedView } from '../../src/session';
import type { SampleCase } from './sample-case';

/** Values that lead straight on, by capture; else the plan's, else the middle one. */
const STRAIGHT_ON: Readonly<Record<string, string | number>> = {
  seating: 'even',
  stability: 'stable',
};
/** Enough for the longest procedure; a walk that needs more is stuck. */
const MOST_ORDERS = 600;

/** Goes on until the step is in hand (or waited for) on its track; throws where it can't. */
export async function walkTo(sample: SampleCase, step: string): Promise<void> {
  for (let count = 0; count < MOST_ORDERS; count += 1) {
    const { view } = sample.session;
    if (view.tracks.some(({ current }) => current?.step === step)) return;
    const before = view.entryCount;
    let isStuck = true;
    for (const order of ordersOn(view)) {
      sample.clock.advance(7_000);
      const { refusal } = await sample.session.submit(order, 'desk');
      isStuck = refusal !== null;
      if (!isStuck) break;
    }
    if (isStuck) await fetchPack(sample);
    if (sample.session.view.entryCount === before) break;
  }
  const where = sample.session.view.tracks.map(({ current }) => current?.step).join(', ');
  throw new Error(`The walk never came to "${step}"; it stands at ${where}`);
}

/** A pack that is still to be scanned is scanned, opened and implanted. */
async function fetchPack({ session }: SampleCase): Promise<void> {
  const { articles, notScanned, packs } = session.view.implants;
  const [first] = session.entries;
  const article = articles.find(({ title }) => title === notScanned[0]);
  if (first?.type !== 'case.opened' || !article) return;
  const catalogue = catalogueFor(first.data.procedureId);
  const pack = {
    article: article.id,
    serial: `W${packs.length}`,
    expiresOn: expiryAfter(first.at),
  };
  const orders: readonly RoomOrder[] = catalogue
    ? packOrders(catalogue, pack, ['opened', 'implanted'])
    : [];
  for (const order of orders) await session.submit(order, 'desk');
}

/** What could be done now, the most needed first. */
function ordersOn(view: CaseView): readonly Order[] {
  if (view.readBack) return [{ type: 'capture.confirm' }];
  const checks = view.checklists.flatMap(({ step, items }) =>
    items
      .filter(({ answer }) => answer === null)
      .map(({ item }): Order => ({ type: 'check.answer', step, item, answer: 'yes' })),
  );
  const counts = view.counts
    .filter(({ isNow }) => isNow)
    .flatMap(({ count, items }) =>
      items
        .filter(({ result }) => result === null)
        .map(({ item, expected }): Order => {
          return { type: 'count.record', count, item, value: expected ?? 1 };
        }),
    );
  const offers = view.wanted.filter(({ isConfirmed }) => !isConfirmed).map(offerFor);
  const moves = view.tracks.flatMap(({ id, state, current, held }): Order[] => {
    if (!current || held) return [];
    if (state === 'waiting') return [{ type: 'step.begin', step: current.step }];
    return current.canFinish ? [{ type: 'step.finish', track: id }] : [];
  });
  return [...checks, ...counts, ...offers, ...moves];
}

function offerFor({ capture, kind, options }: WantedView): Order {
  if (kind === 'note' || kind === 'label')
    return { type: 'capture.offer', capture, value: 'Noted' };
  const planned = options.find(({ isPlanned }) => isPlanned);
  const straight = options.find(({ value }) => value === STRAIGHT_ON[capture]);
  const chosen = straight ?? planned ?? options[Math.floor(options.length / 2)];
  return { type: 'capture.offer', capture, value: chosen?.value ?? 0 };
}
