/** A voice card that comes to the desk as a file, as when a colleague comes from another wall. */
import type { Page } from '@playwright/test';
// Past the folder's door: it also opens on JSON files that a browser test's runner can't import.
import { cardToText } from '../../src/voice/cards/card-file';
import type { VoiceCard } from '../../src/voice/cards/voice-card';

/** A second of silence: for tests in which nobody speaks. */
export const SILENCE = new Int16Array(16_000);

/** What such a card is, but for what matters to who brings it; its id comes of its label. */
const USUAL = {
  format: 1,
  language: 'en-GB',
  version: 1,
  madeAt: Date.UTC(2026, 0, 5),
  addressPhrase: 'theatre wall',
} as const;

/** Gives its file to the page of voice cards, which then says what came of it. */
export async function bringCard(
  page: Page,
  card: Partial<VoiceCard> & Pick<VoiceCard, 'label' | 'takes'>,
): Promise<void> {
  const id = `card-${card.label.toLowerCase().replace(' ', '-')}`;
  const text = await cardToText({ ...USUAL, id, ...card });
  await page.locator('input[type=file]').setInputFiles({
    name: 'card.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text),
  });
}
