/** The part of the error catalogue about files of recordings, as `npm run listen` takes them. */
export const RECORDING_ERRORS = {
  'listen-wrong-use': {
    happened: 'npm run listen can’t be used like this: {problem}',
    next: 'npm run listen -- --phrases FILE [--card DIR] [--listener both|grammar|embedding] WAV...',
    developer: 'listen: {problem}',
  },
  'file-unreadable': {
    happened: '“{file}” can’t be read',
    next: 'Look whether it is there, is what was meant, and may be read.',
    developer: 'file "{file}": {detail}',
  },
  'recording-unusable': {
    happened: '“{file}” is no recording that can be listened to',
    next: 'Give a WAV file with PCM of 16 bits a sample, of any rate and any number of channels.',
    developer: 'recording "{file}": expected RIFF/WAVE, PCM, 16 bits; {detail}',
  },
  'phrases-missing': {
    happened: 'There is no phrase in “{file}”',
    next: 'Write one phrase a line. Nothing was listened to.',
    developer: 'list of phrases "{file}": no line with a word',
  },
  'card-recordings-missing': {
    happened: 'There are no recordings of phrases in “{folder}”',
    next: 'Put a folder in it for each phrase, named after its words, with the recordings. Nothing was listened to.',
    developer: 'card folder "{folder}": no folder with a file',
  },
} as const;
