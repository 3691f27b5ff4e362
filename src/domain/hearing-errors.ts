/** The part of the error catalogue about what was heard and who hears it. */
export const HEARING_ERRORS = {
  'phrase-not-understood': {
    happened: 'Heard speech, but no command',
    next: 'Say the address phrase and the command again, or use the desk.',
    developer: 'the listener returned no phrase',
  },
  'phrase-in-doubt': {
    happened: '“{first}” or “{second}”? Say it again',
    next: 'Nothing was recorded. Say the address phrase and the command once more, digit by digit, or use the desk.',
    developer: 'the listeners did not agree: "{first}", "{second}"',
  },
  'phrase-of-two': {
    happened: 'Two people spoke at once',
    next: 'Nothing was recorded. One at a time: say the address phrase and the command again, or use the desk.',
    developer: 'a second voice was found in the utterance',
  },
  'phrase-not-now': {
    happened: '“{words}” does nothing at this moment',
    next: 'The wall shows what it can take; nothing was changed.',
    developer: 'phrase "{words}" is not in the vocabulary',
  },
  'browser-recogniser-stopped': {
    happened: 'The browser’s own recogniser is not used',
    next: 'The wall’s own listeners hear as always; nothing is lost. Menu, Voice says why.',
    developer: 'on-device recognition: {detail}',
  },
  'phrase-not-in-language': {
    happened: '“{words}” has no words in {language}',
    next: 'Use the keys for it; everything else can be said. Nothing was changed.',
    developer: 'no part of the language "{language}" covers "{words}"',
  },
} as const;
