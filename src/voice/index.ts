/**
 * Hearing and speaking: microphone, voice activity, listeners, grammar, announcer.
 * Owns everything between sound and phrase. Knows no procedure and no record:
 * a vocabulary comes in, heard phrases go out.
 */
export * from './grammar';
export * from './grammar-listener';
export * from './hearing';
export * from './listener';
export type { ModelFiles } from './recogniser';
