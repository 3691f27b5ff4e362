/** The part of the error catalogue about voice cards and the languages that are spoken. */
export const VOICE_CARD_ERRORS = {
  'voice-card-unreadable': {
    happened: 'This is not a voice card that can be read',
    next: 'Choose a file that was saved under Voice cards. Nothing was taken in or changed.',
    developer: 'voice card: {detail}',
  },
  'voice-card-altered': {
    happened: 'This voice card was changed or cut after it was saved',
    next: 'Use another copy of it, or record the card anew. Nothing was taken in.',
    developer: 'voice card: {detail} does not agree',
  },
  'voice-card-too-new': {
    happened: 'This voice card was made by a newer version',
    next: 'Use it there, or record the card anew here. Nothing was changed.',
    developer: 'voice card: format {received}, expected at most {expected}',
  },
  'voice-card-exists': {
    happened: 'The voice card {name} is here already, in this or a later version',
    next: 'The one that is here was kept. To go back to the file, delete that card first.',
    developer: 'voice card {name}: version {received}, kept {expected}',
  },
  'voice-card-missing': {
    happened: 'The voice card {name} of this case can’t be used',
    next: 'The wall listens without it; the case and its record are safe. Use the keys if it mishears.',
    developer: 'voice card {name}: {detail}',
  },
  'voices-not-told': {
    happened: 'The listener could not take the voice cards of this case',
    next: 'The case and its record are safe. Reload this window when it is quiet, and use the keys if the wall mishears.',
    developer: 'setVoices of the case was rejected: {detail}',
  },
  'card-test-failed': {
    happened: 'The test of this card stopped',
    next: 'The card is kept as it was. Start the test again, or reload this window.',
    developer: 'test of a voice card: {detail}',
  },
  'voice-card-not-compared': {
    happened: 'How well the phrases are told apart could not be worked out',
    next: 'The card is kept and can be used. Reload this window and open its test again.',
    developer: 'voice card: comparing failed: {detail}',
  },
  'voice-card-in-use': {
    happened: 'The voice card {name} is used in the open case',
    next: 'Close the case, then change or delete the card. Nothing was changed.',
    developer: 'voice card {name}: picked in the open case',
  },
  'voice-cards-not-kept': {
    happened: 'Voice cards can’t be kept or read in this browser',
    next: 'Leave private browsing or make room, then try again. Cases and the record are not touched.',
    developer: 'voice cards: {detail}',
  },
  'voice-card-language': {
    happened: 'The voice card {name} is in a language that this version can’t hear: {language}',
    next: 'It can’t be taken in or used here; nothing was changed. Use it in a version that has this language.',
    developer: 'voice card {name}: language "{language}", expected one of {expected}',
  },
  'voice-card-other-language': {
    happened: 'The voice card {name} is in {received}; people of this case speak {expected}',
    next: 'Nothing was changed. Hand over with a card in {expected}, or without a card.',
    developer: 'voice card {name}: language {received}, expected {expected}',
  },
  'voice-card-taken': {
    happened: 'The voice card {name} is another role’s in this case',
    next: 'Nothing was changed. Hand over with another card, or without one.',
    developer: 'voice card {name}: one card, one role',
  },
  'language-unknown': {
    happened: 'This version can’t hear {language}',
    next: 'A case that was set up in it goes on, and its record is safe: the wall hears English. Speak English, or use the keys.',
    developer:
      'no language "{language}" in src/voice/languages/languages.ts, expected one of {expected}',
  },
} as const;
