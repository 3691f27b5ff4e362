/** The look back in a real browser: on paper, as picture files, by keyboard, with a change marked, with a file of another machine. */
import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from '@playwright/test';
import type { BrowserContext, Locator, Page } from '@playwright/test';
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import type { ReviewBenchPage } from '../bench/review-page';
import { bundle, openBundledPage } from './bundled-page';

declare const reviewBenchPage: ReviewBenchPage;

/** The largest built-in operation, of which one sheet is hardest to make, and the one that demo cases are of. */
const LARGE = { id: 'reverse-shoulder', count: 12 };
const SMALL = { id: 'reverse-shoulder-glenoid', count: 60 };
/** Laptop and tablet at the desk. */
const SIZES = [
  { width: 1366, height: 768 },
  { width: 1024, height: 768 },
];

let context: BrowserContext;
let folder = '';

test.describe.configure({ mode: 'serial' });
test.beforeAll(async ({ browser, baseURL }) => {
  test.setTimeout(240_000);
  folder = await mkdtemp(path.join(tmpdir(), 'cuewall-review-'));
  context = await browser.newContext({
    ...(baseURL ? { baseURL } : {}),
    serviceWorkers: 'block',
  });
  const page = await openBundledPage(context, baseURL, await bundle('tests/bench/review-page.ts'));
  for (const { id, count } of [LARGE, SMALL]) {
    await page.evaluate(([it, of]) => reviewBenchPage.fill(it, of), [count, id] as const);
  }
  await page.close();
});
test.afterAll(async () => {
  await context.close();
  await rm(folder, { recursive: true, force: true });
});

async function openMany(): Promise<Page> {
  const page = await context.newPage();
  await page.goto('/#/review');
  // Every case is read, and the last chart is drawn.
  await expect(page.locator('header b')).toHaveText(`${LARGE.count + SMALL.count} cases`, {
    timeout: 60_000,
  });
  await expect(page.locator('header progress')).toHaveCount(0, { timeout: 60_000 });
  await expect(chart(page, 'Learning curve')).toBeVisible();
  return page;
}

const chart = (page: Page, title: string): Locator =>
  page.locator('figure').filter({ has: page.locator('strong', { hasText: title }) });

async function checkScreen(page: Page): Promise<void> {
  expect((await new AxeBuilder({ page }).analyze()).violations).toEqual([]);
  const over = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  expect(over).toBeLessThanOrEqual(0);
}

/** Pages of a PDF, from its own page tree (ISO 32000-1, 7.7.3.3: one /Page object each). */
function countPages(pdf: Buffer): number {
  return pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
}

test('[REV54] a case of the largest operation is one sheet of A4, marked, with its caution, without colour', async () => {
  test.setTimeout(240_000);
  const page = await context.newPage();
  const file = path.join(folder, 'sheet.pdf');
  // Any of them may be the fullest.
  for (let place = 0; place < LARGE.count; place += 1) {
    await page.goto(`/#/review/${LARGE.id}-${String(place).padStart(6, '0')}`);
    await page.reload();
    await expect(page.getByText(/median of \d+ other cases/)).toBeVisible({ timeout: 60_000 });
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    await writeFile(file, pdf);
    expect(countPages(pdf), `case ${place}`).toBe(1);
  }
  if (existsSync('/usr/bin/pdftotext')) {
    const text = execFileSync('/usr/bin/pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
    for (const words of ['Demo, invented data', 'maker’s instructions', 'What cost time', 'Sizes', 'Heard wrong'])
      expect(text.replace(/\s+/g, ' ')).toContain(words); // prettier-ignore
    execFileSync('/usr/bin/pdftoppm', [
      '-r',
      '60',
      '-singlefile',
      file,
      path.join(folder, 'sheet'),
    ]);
    // Netpbm P6: three header lines, then red, green and blue of each dot. Grey dots have all three alike.
    const picture = await readFile(path.join(folder, 'sheet.ppm'));
    const head = /^P6\s+\d+\s+\d+\s+255\s/.exec(picture.toString('latin1', 0, 40))?.[0] ?? '';
    const dots = picture.subarray(head.length);
    let coloured = 0;
    for (let at = 0; at + 2 < dots.length; at += 3) {
      const [red = 0, green = 0, blue = 0] = dots.subarray(at, at + 3);
      if (Math.max(red, green, blue) - Math.min(red, green, blue) > 12) coloured += 1;
    }
    expect(head).not.toBe('');
    expect(dots.length).toBeGreaterThan(500_000);
    expect(coloured).toBe(0);
  }
  // Everything is more than a sheet, and says more.
  await page.evaluate(() => {
    globalThis.print = () => undefined;
  });
  await page.locator('.review').evaluate((review) => review.classList.add('whole'));
  expect(countPages(await page.pdf({ preferCSSPageSize: true }))).toBeGreaterThan(1);
  await page.close();
});

/** Opened by itself, as a person does: what is drawn of the file, box by box, and in which colours. */
async function lookAtFile(svg: string) {
  const page = await context.newPage();
  try {
    await page.setContent(`<style>body{margin:0}</style>${svg}`);
    return await page.evaluate(() => {
      const boxOf = (it: Element) => {
        const { left, right, top, bottom } = it.getBoundingClientRect();
        return { text: it.textContent.trim(), left, right, top, bottom };
      };
      const drawn = [...document.querySelectorAll('svg > :not(defs, title, desc)')];
      const shown = drawn.flatMap((it) => [it, ...it.querySelectorAll('*')]).filter((it) => !it.closest('defs') && it.tagName !== 'title'); // prettier-ignore
      const paints = shown.flatMap((it) => {
        const { fill, stroke } = getComputedStyle(it);
        return it.tagName === 'g' ? [] : [fill, stroke];
      });
      const [ground] = drawn;
      return {
        ground: ground ? getComputedStyle(ground).fill : '',
        shapes: shown.filter((it) => it.tagName !== 'g' && it !== ground).map(boxOf),
        texts: [...document.querySelectorAll('text')].map(boxOf).filter(({ text }) => text !== ''),
        coloured: paints.flatMap((paint) => {
          const [red, green, blue] = paint.match(/[\d.]+/g) ?? [];
          return paint.startsWith('rgb') && (red !== green || green !== blue) ? [paint] : [];
        }),
      };
    });
  } finally {
    await page.close();
  }
}

/** Bare paper that is left on every side, less half the width of a line. */
const LEAST_MARGIN = 10;

/** White, without colour, nothing at the edge or beyond it, no words on other words. */
async function checkOnPaper(svg: string, width: number, height: number): Promise<void> {
  const { ground, shapes, texts, coloured } = await lookAtFile(svg);
  expect(ground).toBe('rgb(255, 255, 255)');
  expect(coloured).toEqual([]);
  const out = shapes.filter(
    ({ left, right, top, bottom }) =>
      left < LEAST_MARGIN || right > width - LEAST_MARGIN || top < LEAST_MARGIN || bottom > height - LEAST_MARGIN, // prettier-ignore
  );
  expect(out).toEqual([]);
  expect(texts.length).toBeGreaterThan(5);
  const covered = texts.flatMap((a, index) =>
    texts
      .slice(index + 1)
      .filter(
        (b) =>
          Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 &&
          Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4,
      ) // prettier-ignore
      .map((b) => `${a.text} on ${b.text}`),
  );
  expect(covered).toEqual([]);
}

/** Takes a figure's drawing as SVG and as PNG, and looks at both files. */
async function checkPictures(page: Page, figure: Locator, title: string): Promise<void> {
  const save = async (kind: string) => {
    const download = page.waitForEvent('download');
    await figure.getByRole('button', { name: kind }).click();
    const taken = await download;
    // What is not of real cases says so in its name.
    expect(taken.suggestedFilename()).toMatch(/^demo-/);
    return readFile(await taken.path());
  };
  const svg = (await save('SVG')).toString('utf8');
  expect(svg).toMatch(/^<svg[^>]* xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
  const seen = await page.evaluate((text) => {
    const { documentElement: root } = new DOMParser().parseFromString(text, 'image/svg+xml');
    const ids = [...root.querySelectorAll('[id]')].map(({ id }) => id);
    const used = [...text.matchAll(/url\((?:&quot;|")?#([\w-]+)/g)].map(([, id]) => id ?? '');
    return {
      isWellFormed: root.querySelector('parsererror') === null,
      // Lines are broken where they end; letters only are compared.
      drawn: [...root.querySelectorAll('text')].map((it) => it.textContent).join(' '),
      width: Number(root.getAttribute('width')),
      height: Number(root.getAttribute('height')),
      lost: used.filter((id) => !ids.includes(id)),
    };
  }, svg);
  expect(seen).toMatchObject({ isWellFormed: true, lost: [] });
  expect(seen.drawn.replaceAll(/\s+/g, ' ')).toContain(
    `Demo, invented data ${title}`.replaceAll(/\s+/g, ' '),
  );
  expect(svg).not.toContain('var(--');
  await checkOnPaper(svg, seen.width, seen.height);
  // PNG (ISO/IEC 15948): signature, then width and height of the header in big-endian.
  const png = await save('PNG');
  expect([...png.subarray(0, 8)]).toEqual([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  expect(png.readUInt32BE(16)).toBe(Math.trunc(3 * seen.width));
  expect(png.readUInt32BE(20)).toBe(Math.trunc(3 * seen.height));
  // More than one flat colour: a drawing packs worse than nothing.
  expect(png.length).toBeGreaterThan(5_000);
}

test('[REV55] every chart goes out as SVG and as PNG, with its words and its mode drawn into it', async () => {
  test.setTimeout(180_000);
  const page = await openMany();
  const figures = page.locator('figure');
  expect(await figures.count()).toBe(7);
  for (const figure of await figures.all()) {
    const title = (await figure.locator('strong').textContent()) ?? '';
    const sentence = (await figure.locator('figcaption span').textContent()) ?? '';
    await checkPictures(page, figure, `${title} ${sentence}`);
  }
  await page.close();
});

test('[REV55] the picture of one case goes out with what its shapes mean', async () => {
  test.setTimeout(120_000);
  const page = await context.newPage();
  await page.goto(`/#/review/${SMALL.id}-000003`);
  const heading = page.getByRole('heading', { level: 1 });
  await expect(page.locator('figure svg').first()).toBeVisible({ timeout: 60_000 });
  const figure = page.locator('figure').first();
  await checkPictures(page, figure, (await heading.textContent()) ?? '');
  // On the screen the legend stands beside it; the drawing there has no second one.
  await expect(figure.locator('[role=img]').getByText('step in hand')).toHaveCount(0);
  await page.close();
});

for (const size of SIZES) {
  test(`[REV56] by keyboard each chart opens its table; ${size.width} by ${size.height} fits, free of axe's findings`, async () => {
    test.setTimeout(120_000);
    const page = await openMany();
    await page.setViewportSize(size);
    // A dozen cases: rows enough, and axe looks at every one of them.
    await page.getByLabel('Procedure').selectOption(LARGE.id);
    await expect(page.locator('header b')).toHaveText(`${LARGE.count} cases`);
    for (const summary of await page.getByText('As a table').all()) {
      await summary.focus();
      await page.keyboard.press('Enter');
    }
    for (const figure of await page.locator('figure').all()) {
      const table = figure.getByRole('table');
      await expect(table).toBeVisible();
      expect(await table.getByRole('row').count()).toBeGreaterThan(5);
      await expect(figure.getByRole('img')).toHaveAccessibleName(/table/);
    }
    await checkScreen(page);
    await page.close();
  });
}

test('[REV56] a marked change splits the charts, a filter narrows the cases, and both can be taken back', async () => {
  test.setTimeout(120_000);
  const page = await openMany();
  await page.getByLabel('Procedure').selectOption(SMALL.id);
  await expect(page.locator('header b')).toHaveText(`${SMALL.count} cases`);
  await page.locator('.ask select').selectOption({ label: 'Reaming (field)' });
  await expect(page.getByRole('heading', { name: /Is it changing\? Reaming/ })).toBeVisible();
  const run = chart(page, 'Run chart');
  await expect(run.locator('path.centre')).toHaveCount(1);
  await page.getByLabel('Changed on').fill('2016-01-19');
  await page.getByLabel('What changed').fill('new tray');
  await page.getByLabel('this phase only').check();
  await page.getByRole('button', { name: 'Split here' }).click();
  await expect(run.getByText('new tray')).toBeVisible();
  await expect(run.locator('path.centre')).toHaveCount(2);
  // Kept for the next visit, and for that phase only where it was asked so.
  await page.reload();
  await expect(page.locator('header b')).toHaveText(`${LARGE.count + SMALL.count} cases`);
  await page.getByLabel('Procedure').selectOption(SMALL.id);
  await page.locator('.ask select').selectOption({ label: 'Screws (field)' });
  await expect(page.getByRole('heading', { name: /Is it changing\? Screws/ })).toBeVisible();
  await expect(run.locator('path.centre')).toHaveCount(1);
  await page.locator('.ask select').selectOption({ label: 'Reaming (field)' });
  await expect(run.locator('path.centre')).toHaveCount(2);
  await page.getByRole('button', { name: 'Remove new tray' }).click();
  await expect(run.locator('path.centre')).toHaveCount(1);
  // About half of the demo cases were spoken with a card: some of either kind, together all.
  const count = async () => Number.parseInt((await page.locator('header b').textContent()) ?? '', 10); // prettier-ignore
  await page.getByLabel('Voice cards').selectOption('with');
  await expect.poll(count).toBeLessThan(SMALL.count);
  const withCards = await count();
  expect(withCards).toBeGreaterThan(0);
  await page.getByLabel('Voice cards').selectOption('without');
  await expect.poll(count).toBe(SMALL.count - withCards);
  await page.getByLabel('Voice cards').selectOption('');
  await page.getByLabel('To', { exact: true }).fill('1990-01-01');
  await expect(page.getByText('No closed case is like that')).toBeVisible();
  await page.getByLabel('To', { exact: true }).fill('');
  await expect(page.locator('header b')).toHaveText(`${SMALL.count} cases`);
  await page.close();
});

test('[REV90] among several operations the most frequent gives the times, says so, and the other is a choice away', async () => {
  test.setTimeout(120_000);
  const page = await openMany();
  const choice = page.getByLabel('Times and change of');
  await expect(choice).toHaveValue(SMALL.id);
  const said = (count: number) =>
    page.getByText(`${count} of these ${LARGE.count + SMALL.count} cases. Nothing can be said`);
  await expect(said(SMALL.count)).toBeVisible();
  await expect(chart(page, 'How long each phase takes')).toContainText(`${SMALL.count} cases`);
  await choice.selectOption(LARGE.id);
  await expect(said(LARGE.count)).toBeVisible();
  await expect(chart(page, 'How long each phase takes')).toContainText(`${LARGE.count} cases`);
  // With one procedure asked for nothing has to be chosen.
  await page.getByLabel('Procedure').selectOption(SMALL.id);
  await expect(page.locator('header b')).toHaveText(`${SMALL.count} cases`);
  await expect(choice).toHaveCount(0);
  await page.close();
});

test('[REV43] [REV94] the rooms stand by themselves, their hours are typed over, and named times have their intervals', async () => {
  test.setTimeout(120_000);
  const page = await openMany();
  const rooms = page.locator('section').filter({ has: page.getByRole('heading', { name: 'Rooms' }) }); // prettier-ignore
  const row = rooms.getByRole('row', { name: /Theatre 1/ });
  await expect(row.getByRole('cell').nth(1)).toHaveText(String(LARGE.count + SMALL.count));
  await expect(row.getByRole('cell').nth(4)).not.toHaveText('0.0');
  await page.getByLabel('Hours a day').fill('24');
  await page.getByLabel('Hours a day').press('Tab');
  await page.getByLabel('Resource hours from').fill('00:00');
  // All of each day: nothing can lie outside it.
  await expect(row.getByRole('cell').nth(4)).toHaveText('0.0');
  await page.getByLabel('Hours a day').fill('30');
  await page.getByLabel('Hours a day').press('Tab');
  await expect(rooms.getByText('The figures are still of 00:00 and 24 hours.')).toBeVisible();
  await expect(rooms.getByText('anybody’s case ends a turnover')).toHaveCount(0);
  await page.getByLabel('Side').selectOption('left');
  await expect(rooms.getByText('anybody’s case ends a turnover')).toBeVisible();
  await expect(row.getByRole('cell').nth(1)).toHaveText(String(LARGE.count + SMALL.count));
  const times = page.getByRole('region', { name: /Minutes by the wall clock/ });
  await expect(times.getByRole('row', { name: /Procedure finish to patient out of room/ })).toBeVisible(); // prettier-ignore
  await expect(page.getByText('anaesthesia finish (AF)')).toBeVisible();
  await page.close();
});

test('[REV57] cases from another machine come in once, however often the file is brought', async ({
  browser,
  baseURL,
}) => {
  test.setTimeout(120_000);
  const page = await openMany();
  const download = page.waitForEvent('download');
  await page.getByRole('button', { name: 'For another machine, JSON' }).click();
  const file = path.join(folder, 'from-another.json');
  await writeFile(file, await readFile(await (await download).path()));
  await page.close();

  const other = await browser.newContext({
    ...(baseURL ? { baseURL } : {}),
    serviceWorkers: 'block',
  });
  const there = await other.newPage();
  await there.goto('/#/review');
  const chooser = there.locator('input[type=file]');
  for (let time = 0; time < 2; time += 1) {
    await chooser.setInputFiles(file);
    await expect(there.locator('header b')).toHaveText(`${LARGE.count + SMALL.count} cases`);
    const [added, known] = time === 0 ? [LARGE.count + SMALL.count, 0] : [0, LARGE.count + SMALL.count]; // prettier-ignore
    await expect(there.getByText(`${added} cases added, ${known} already known`)).toBeVisible();
  }
  await chooser.setInputFiles({ name: 'x.json', mimeType: 'application/json', buffer: Buffer.from('{}') }); // prettier-ignore
  await expect(
    there.getByText('This is no file of a review, or it is damaged').first(),
  ).toBeVisible();
  await expect(there.locator('header b')).toHaveText(`${LARGE.count + SMALL.count} cases`);
  await other.close();
});
