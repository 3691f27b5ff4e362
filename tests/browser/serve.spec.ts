/** The built product under the server's own headers. */
import { expect, test } from '@playwright/test';

test('[TOO5] the product starts under its own policy, and talks to its own origin only', async ({
  page,
  baseURL,
}) => {
  const complaints: string[] = [];
  const origins = new Set<string>();
  page.on('console', (message) => {
    const { url } = message.location();
    // Browsers ask for this file of their own accord; a page may do without it.
    if (message.type() !== 'error' || url.endsWith('/favicon.ico')) return;
    complaints.push(`${message.text()} ${url}`);
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('request', (request) => origins.add(new URL(request.url()).origin));
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI }) => {
      console.error(`policy: ${violatedDirective} ${blockedURI}`);
    });
  });
  await page.goto('/');
  await expect(page.getByRole('button').first()).toBeVisible();
  await page.waitForLoadState('networkidle');
  expect(complaints).toEqual([]);
  expect([...origins]).toEqual([new URL(baseURL ?? '').origin]);
  expect(await page.evaluate(() => crossOriginIsolated)).toBe(true);
});

test('[TOO2] an unknown address of the product is a real 404', async ({ page }) => {
  const response = await page.goto('/no-such-screen');
  expect(response?.status()).toBe(404);
});
