/**
 * Kills the window that writes, again and again, while three others give orders as fast as
 * they are answered; then looks in the record what became of every order.
 */
import type { BrowserContext, Page } from '@playwright/test';
import { openBundledPage } from './bundled-page';
import type { GivenOrder, TakeoverPage } from './takeover-page';

declare const takeoverPage: TakeoverPage;

/** Orders that each window must have had answered before the writer dies, and again afterwards. */
const ANSWERED = 8;

export interface TakeoverFigures {
  readonly kills: number;
  readonly orders: number;
  /** Carried out and answered so, but not in the record. */
  readonly lost: readonly string[];
  /** In the record more than once. */
  readonly doubled: readonly string[];
  /** Refused or never answered; such an order may be in the record at most once. */
  readonly refused: readonly string[];
  readonly isWhole: boolean;
  /** From each kill to the first answer of the next writer, in milliseconds. */
  readonly takeoverMs: readonly number[];
}

/** Runs it in one context, whose pages serve `script` at `address`. */
export async function killWriters(
  context: BrowserContext,
  address: string | undefined,
  script: string,
  kills: number,
): Promise<TakeoverFigures> {
  const open = async (): Promise<Page> => {
    const page = await openBundledPage(context, address, script);
    await page.evaluate(() => takeoverPage.openOrFollow());
    return page;
  };
  let pages: Page[] = [];
  for (let window = 0; window < 4; window += 1) pages.push(await open());
  const given: GivenOrder[] = [];
  const takeoverMs: number[] = [];
  for (let kill = 0; kill < kills; kill += 1) {
    const writer = await findWriter(pages);
    const others = pages.filter((page) => page !== writer);
    for (const [index, page] of others.entries())
      await page.evaluate((name) => takeoverPage.giveOrders(name), `${kill}-${index}`);
    await untilAnswered(others, ANSWERED);
    const killedAt = await crash(context, writer);
    const before = await Promise.all(others.map((page) => page.evaluate(() => takeoverPage.answered()))); // prettier-ignore
    await untilAnswered(others, Math.max(...before) + ANSWERED);
    const orders = (
      await Promise.all(others.map((page) => page.evaluate(() => takeoverPage.stopGiving())))
    ).flat();
    given.push(...orders);
    // An answer of the dead writer may still have been on its way at the kill: the gap is what counts.
    takeoverMs.push(longestGap(orders, killedAt));
    pages = [...others, await open()];
  }
  const [page] = pages;
  if (!page) throw new Error('No window is left');
  const caseId = await page.evaluate(() => takeoverPage.openOrFollow());
  const { labels, isWhole } = await page.evaluate((it) => takeoverPage.readLabels(it), caseId);
  const counts = new Map<string, number>();
  for (const label of labels) counts.set(label, (counts.get(label) ?? 0) + 1);
  return {
    kills,
    orders: given.length,
    lost: given.filter(({ label, refusal }) => refusal === null && !counts.has(label)).map(({ label }) => label), // prettier-ignore
    doubled: [...counts].filter(([, count]) => count > 1).map(([label]) => label),
    refused: given.filter(({ refusal }) => refusal !== null).map(({ label, refusal }) => `${label}: ${refusal ?? ''}`), // prettier-ignore
    isWhole,
    takeoverMs,
  };
}

async function findWriter(pages: readonly Page[]): Promise<Page> {
  for (;;)
    for (const page of pages) if (await page.evaluate(() => takeoverPage.isWriter())) return page;
}

async function untilAnswered(pages: readonly Page[], count: number): Promise<void> {
  for (const page of pages)
    await page.waitForFunction((it) => takeoverPage.answered() >= it, count, { polling: 20 });
}

/** The window's process dies without a word; gives when. */
async function crash(context: BrowserContext, page: Page): Promise<number> {
  const devtools = await context.newCDPSession(page);
  const crashed = page.waitForEvent('crash');
  const killedAt = Date.now();
  // The answer to this command dies with the window.
  void devtools.send('Page.crash').catch(() => undefined);
  await crashed;
  return killedAt;
}

/** The longest time in which no window had an answer, from the kill on. */
function longestGap(orders: readonly GivenOrder[], killedAt: number): number {
  const times = orders.map(({ answeredAt }) => answeredAt).filter((at) => at >= killedAt).sort((a, b) => a - b); // prettier-ignore
  let [longest, last] = [0, killedAt];
  for (const at of times) {
    longest = Math.max(longest, at - last);
    last = at;
  }
  return longest;
}
