/**
 * Hearing and speaking: microphone, voice activity, listeners, grammar, announcer.
 * Owns everything between sound and phrase. Knows no procedure and no record:
 * a vocabulary comes in, heard phrases go out.
 */
export * from './address-phrase';
export * from './address-study';
export * from './announcer';
export * from './auto-gain';
export * from './barge-in';
export * from './browser-recogniser';
export * from './browser-cards';
export * from './browser-voice';
export * from './card-examples';
export * from './card-file';
export type * from './card-voice';
export * from './cepstra';
export * from './clip-speech';
export * from './clips';
export * from './ctc';
export * from './decide-both';
export * from './decide-with-network';
export { NETWORK_LIMITS, TWO_VOICES_LIMITS } from './decision-limits';
export * from './ear';
export * from './earcons';
export * from './grammar';
export * from './grammar-decision';
export * from './grammar-listener';
export * from './hearing';
export * from './hearing-host';
export * from './languages';
export { pronunciationOf } from './lexicon';
export * from './listener';
export * from './local-hearing';
export * from './microphone';
export * from './microphone-flow';
export * from './network-listener';
export * from './phrase-distance';
export * from './phrase-network';
export * from './platform-speech';
export * from './push-to-talk';
export * from './rehearsal-speaker';
export * from './room-volume';
export { resample } from './resampler';
export * from './second-voice';
export * from './sound-meter';
export * from './sound-player';
export * from './speech-traits';
export * from './spoken-language';
export * from './third-opinion';
export * from './take-recorder';
export * from './tell-apart';
export * from './two-listeners';
export * from './utterances';
export * from './voice-activity';
export * from './voice-card';
export * from './wav';
export * from './worker-listener';
export type { ModelFiles } from './recogniser';
