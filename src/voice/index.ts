/**
 * Hearing and speaking: microphone, voice activity, listeners, grammar, announcer.
 * Owns everything between sound and phrase. Knows no procedure and no record:
 * a vocabulary comes in, heard phrases go out.
 */
export * from './ear/browser-recogniser';
export * from './ear/ear';
export * from './ear/microphone';
export * from './ear/microphone-flow';
export * from './ear/push-to-talk';
export { resample } from './ear/resampler';
export * from './ear/wav';

export * from './hearing/auto-gain';
export * from './hearing/barge-in';
export * from './hearing/hearing';
export * from './hearing/hearing-host';
export * from './hearing/idle-learning';
export * from './hearing/listener';
export * from './hearing/local-hearing';
export * from './hearing/sound-meter';
export * from './hearing/utterances';
export * from './hearing/voice-activity';
export * from './hearing/worker-listener';

export * from './grammar/grammar';
export * from './grammar/grammar-decision';
export * from './grammar/grammar-listener';
export type { ModelFiles } from './grammar/recogniser';

export * from './network/cepstra';
export * from './network/ctc';
export * from './network/network-listener';
export * from './network/other-numbers';
export * from './network/phrase-distance';
export * from './network/phrase-network';
export * from './network/speech-traits';

export * from './text/speech-encoder';
export type { HearsText, TextQuestion } from './text/text-listener';
export * from './text/text-model';
export * from './text/text-worker-listener';

export * from './cards/browser-cards';
export * from './cards/card-examples';
export * from './cards/card-file';
export type * from './cards/card-voice';
export * from './cards/take-recorder';
export * from './cards/tell-apart';
export * from './cards/voice-card';

export * from './decision/all-listeners';
export * from './decision/calibration';
export * from './decision/decide-both';
export * from './decision/decide-with-network';
export { NETWORK_LIMITS, TEXT_LIMITS, TWO_VOICES_LIMITS } from './decision/decision-limits';
export * from './decision/rankings';
export * from './decision/score';
export * from './decision/second-voice';
export * from './decision/text-opinion';
export * from './decision/third-opinion';

export * from './speaking/announcer';
export * from './speaking/clip-speech';
export * from './speaking/clips';
export * from './speaking/earcons';
export * from './speaking/platform-speech';
export * from './speaking/rehearsal-speaker';
export * from './speaking/room-volume';
export * from './speaking/sound-player';

export * from './languages/address-phrase';
export * from './languages/address-study';
export * from './languages/languages';
export { pronunciationOf } from './languages/lexicon';
export * from './languages/spoken-language';

export * from './browser-voice';
