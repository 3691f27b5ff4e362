/**
 * The bottom of the program: ids, values, orders, entries, errors and time.
 * Owns the words that all parts share. Imports nothing from src.
 */
export * from './announcement';
export * from './case-cards';
export * from './clock';
export * from './csv';
export * from './entries';
export * from './errors';
export * from './ids';
export * from './implants';
export * from './label-data';
export * from './milestones';
export * from './orders';
export * from './outline';
export * from './result';
export * from './seal';
export * from './sound-reading';
export * from './spoken-language';
export * from './values';
export * from './vocabulary';
export type * from './voice-cards';
export * from './voice-settings';
