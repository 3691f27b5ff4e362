/** Voice cards of the people of a spoken case. */
import type { Page } from '@playwright/test';
import { DEFAULT_ADDRESS_PHRASE } from '../../src/voice';
import { bringCard } from '../browser/bring-card';
import type { People } from '../browser/theatre-people';
import { makeDeskCard } from './held-out/desk-card';

/** In which field of the set-up each of them is picked. */
const FIELDS = {
  surgeon: 'Surgeon’s voice card',
  scrub: 'Scrub practitioner’s voice card',
} as const;
/** How long taking one in may take on a busy machine, in milliseconds. */
const TAKEN_IN_MS = 30_000;

/** Each reads what the desk asks for this procedure; gives what picks the cards at set-up. */
export async function bringCards(
  page: Page,
  address: string,
  people: People,
  procedure: string,
): Promise<() => Promise<void>> {
  await page.goto(`${address}#/voice/cards`);
  for (const role of ['surgeon', 'scrub'] as const) {
    const { card } = makeDeskCard(people[role], procedure);
    await bringCard(page, {
      label: role,
      addressPhrase: DEFAULT_ADDRESS_PHRASE,
      takes: card.takes,
    });
    await page.getByText(`Taken in: ${role}`).waitFor({ timeout: TAKEN_IN_MS });
  }
  return async () => {
    for (const role of ['surgeon', 'scrub'] as const)
      await page.getByLabel(FIELDS[role]).selectOption({ label: `${role}, version 1` });
  };
}
