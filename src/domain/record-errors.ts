/**
 * The part of the error catalogue that is about the record, its files, its lock and
 * the look back on it; errors.ts takes it in. Each text says whether the record is safe.
 */
export const RECORD_ERRORS = {
  // The record.
  'record-unavailable': {
    happened: 'This browser gives no room to keep the record',
    next: 'The case runs from memory. Leave private browsing, or save the file before you close this window.',
    developer: 'IndexedDB missing or refused: {detail}',
  },
  'record-append-failed': {
    happened: 'Not saved: {count}',
    next: 'The wall goes on from memory and keeps trying. Save the file at the desk to be safe.',
    developer: 'append from seq {seq} failed: {detail}',
  },
  'record-conflict': {
    happened: 'Another window has written this case',
    next: 'What is shown here is not saved. Save the file at the desk, then reload this window.',
    developer: 'entry {seq} exists already or is not next',
  },
  'record-gap': {
    happened: 'Not saved: earlier entries of this case are missing here',
    next: 'The wall goes on from memory. Save the file at the desk to be safe.',
    developer: 'entry {seq} offered, next is {expected}',
  },
  'record-too-new': {
    happened: 'This case was written by a newer version',
    next: 'It opens to read only; nothing was changed.',
    developer: 'entry version {received}, expected at most {expected}',
  },
  'record-unreadable': {
    happened: 'Part of this record can’t be read',
    next: 'Everything before it was kept; the damaged part was left as it is.',
    developer: 'entry {seq}: {detail}',
  },
  'snapshot-wrong': {
    happened: 'What this case was put back from did not match its record',
    next: 'The screens now show what the record says. Check where each track stands.',
    developer: 'snapshot up to entry {seq}: {detail}',
  },
  'import-unreadable': {
    happened: 'This file is not a saved case',
    next: 'Choose a JSON file that was saved here. Nothing was taken in.',
    developer: 'import: {detail}',
  },
  'import-altered': {
    happened: 'This file was changed after it was saved',
    next: 'Use another copy of it. Nothing was taken in.',
    developer: 'import: {detail}',
  },
  'import-exists': {
    happened: 'This case is on this machine already',
    next: 'The one that is here was kept as it is; the file was not taken in.',
    developer: 'import: case "{name}" exists',
  },
  'import-too-new': {
    happened: 'This file was saved by a newer version',
    next: 'Open it there. Nothing was taken in.',
    developer: 'import: version {received}, expected at most {expected}',
  },
  'backup-failed': {
    happened: 'The backup was not written',
    next: 'The record on this machine is safe. Try again, or choose another place.',
    developer: 'backup: {detail}',
  },
  'backup-not-allowed': {
    happened: 'The browser wants to be asked again before it writes to “{folder}”',
    next: 'Press “Allow the folder again”. The record on this machine is safe.',
    developer: 'backup folder "{folder}": permission is not granted',
  },
  'record-locked': {
    happened: 'The record is locked',
    next: 'Unlock it under The record. The running case goes on.',
    developer: 'no key for this case while the lock is closed',
  },
  'lock-wrong': {
    happened: 'That is not the passphrase',
    next: 'Try again. After three wrong ones each further try has to wait.',
    developer: 'the private key did not open',
  },
  'lock-wait': {
    happened: 'Too many wrong passphrases',
    next: 'Try again in {seconds} s. The running case goes on.',
    developer: 'wait of {seconds} s not over',
  },
  'lock-weak': {
    happened: 'This passphrase is too short',
    next: 'Take {shortest} characters or more: several words make a good one.',
    developer: 'shorter than {shortest}',
  },
  'lock-set': {
    happened: 'A lock is set already',
    next: 'Unlock it with its passphrase. Nothing was changed.',
    developer: 'lock.set where one is kept',
  },
  'offline-failed': {
    happened: 'The files of this version could not be kept here',
    next: 'Everything works while the server does. Look again later; nothing was changed.',
    developer: 'service worker: {detail}',
  },
  'version-during-case': {
    happened: 'A case is open',
    next: 'Close it first: the version does not change under a running case.',
    developer: 'offline.switch while a case is open',
  },
  'settings-not-read': {
    happened: 'The {what} of this machine could not be read',
    next: 'The usual ones count for now; what is kept here stays as it is. Reload this window between cases.',
    developer: 'settings "{what}": {detail}',
  },
  'case-still-open': {
    happened: 'A case is still running',
    next: 'Close it at the desk first; nothing was changed.',
    developer: 'open while another case is not closed',
  },
  'case-unknown': {
    happened: 'There is no such case on this machine',
    next: 'Choose one from the list.',
    developer: 'case "{name}" has no entries',
  },
  'start-failed': {
    happened: 'Cuewall could not start in this browser',
    next: 'Your record was not touched. Reload the page, or use a current Chromium browser at the address that npm start printed.',
    developer: 'start: {detail}',
  },
} as const;
