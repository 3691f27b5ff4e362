/** What one says first. Chosen by measurement; docs/voice.md has the table. */
export const DEFAULT_ADDRESS_PHRASE = 'theatre wall';
