/**
 * The part of the error catalogue that is about angles, labels and packs; errors.ts
 * takes it in. A refused label or pack never stops the operation.
 */
export const IMPLANT_ERRORS = {
  // Angles.
  'angle-not-usable': {
    happened: '{label} {value} can’t be used as an angle',
    next: 'Type degrees above -90 and below 90; nothing was changed.',
    developer: '{label}: expected a number strictly between -90 and 90, received "{value}"',
  },
  // Labels. Nothing counts as scanned.
  'label-empty': {
    happened: 'Nothing was scanned',
    next: 'Scan the label again; no pack was recorded.',
    developer: 'the scan held nothing but prefix and suffix',
  },
  'label-not-known': {
    happened: 'This bar code is not one of the two that implants carry',
    next: 'Scan the other bar code on the pack; no pack was recorded.',
    developer: 'position {at}: {found}, expected a GS1 element string or a HIBC code',
  },
  'label-character': {
    happened: 'The label holds a character that can’t stand there: {found}, place {at}',
    next: 'Scan it again; if it stays so, do not use this bar code. No pack was recorded.',
    developer: 'position {at} of {part}: {found} is outside {expected}',
  },
  'label-check': {
    happened: 'The check character of {part} is wrong: {found}, place {at}',
    next: 'Scan it again; if it stays so, do not use this bar code. No pack was recorded.',
    developer: '{part} at position {at}: check {found}, expected {expected}',
  },
  'label-identifier': {
    happened: 'The label has no known field at place {at}: {found}',
    next: 'Scan it again; if it stays so, do not use this bar code. No pack was recorded.',
    developer: 'position {at}: no application identifier begins {found}',
  },
  'label-length': {
    happened: '{part} has the wrong length at place {at}: {found} characters',
    next: 'Scan it again; if it stays so, do not use this bar code. No pack was recorded.',
    developer: '{part} at position {at}: {found} characters, expected {expected}',
  },
  'label-date': {
    happened: '{part} is not a date: {found}, place {at}',
    next: 'Read the date on the pack and do not rely on this bar code. No pack was recorded.',
    developer: '{part} at position {at}: {found}, expected {expected}',
  },
  'label-repeated': {
    happened: '{part} stands twice on the label and differs: place {at}',
    next: 'Do not use this bar code; no pack was recorded.',
    developer: '{part} at position {at}: {found}, earlier {expected}',
  },
  'label-pair': {
    happened: '{part} and {found} can’t stand on one label: place {at}',
    next: 'Do not use this bar code; no pack was recorded.',
    developer: '{part} at position {at} excludes {found}',
  },
  'label-needs': {
    happened: '{part} stands alone: {expected} is missing',
    next: 'Scan the other bar code on the pack too; no pack was recorded.',
    developer: '{part} at position {at} requires one of {expected}',
  },
  'label-link': {
    happened: 'These two bar codes are not of one pack',
    next: 'Scan both bar codes of the same pack; no pack was recorded.',
    developer: 'link {found}, expected {expected}',
  },
  // Packs. What was scanned is on the record; the operation goes on.
  'pack-wrong-side': {
    happened: '{article} is for the {found} side; this is a {expected} one',
    next: 'Do not open it. Fetch the {expected} one; the scan is on the record.',
    developer: 'article "{article}" has side "{found}", the case "{expected}"',
  },
  'pack-expired': {
    happened: '{article} expired on {found}; today is {expected}',
    next: 'Do not open it. Fetch another; the scan is on the record.',
    developer: '"{article}" expires {found}, today {expected}',
  },
  'pack-no-date': {
    happened: 'The label of {article} gives no date of expiry',
    next: 'Read the date on the pack before opening; the scan is on the record.',
    developer: '"{article}": neither AI 17 nor a HIBC date',
  },
  'pack-used': {
    happened: '{article} with this serial number or lot is already {found} in this case',
    next: 'Do not use it again. If it is another pack of the same lot, say so; the scan is on the record.',
    developer: 'pack of "{article}" is {found}',
  },
  'pack-other-size': {
    happened: '{article} is not the confirmed size: {expected}',
    next: 'Do not open it, or confirm the size anew; the scan is on the record.',
    developer: 'article "{article}", confirmed {expected}',
  },
  'pack-does-not-fit': {
    happened: '{article} does not go with {found}: {reason}',
    next: 'Would fit: {expected}. The scan is on the record.',
    developer: 'fit broken: {reason}; {article} against {found}',
  },
  'pack-not-confirmed': {
    happened: 'Nobody has confirmed a size for {article} yet',
    next: 'Confirm the size before opening; the scan is on the record.',
    developer: 'no confirmed captures for any slot of "{article}"',
  },
  'pack-not-known': {
    happened: 'This label is not in the catalogue: {found}',
    next: 'Choose once what it is; its number is then known. The scan is on the record.',
    developer: 'product "{found}" has no article',
  },
  'pack-stopped': {
    happened: 'This pack is stopped: {reason}',
    next: 'Open another, or give a reason at the desk; nothing was changed.',
    developer: 'pack "{pack}" has findings that stop: {reason}',
  },
  'pack-needs-reason': {
    happened: 'Waste needs a reason',
    next: 'Write a few words on why; nothing was changed.',
    developer: 'pack.move wasted without a reason',
  },
  'pack-not-so': {
    happened: 'That can’t be said of this pack: it is {found}',
    next: 'Look at the list of packs; nothing was changed.',
    developer: 'pack "{pack}" is {found}, asked for {expected}',
  },
  'pack-unknown': {
    happened: 'No such pack was scanned in this case',
    next: 'Scan its label first; nothing was changed.',
    developer: 'unknown pack "{pack}"',
  },
  'pack-only-at-desk': {
    happened: 'Packs and plans are changed at the desk only',
    next: 'Use the desk; nothing was changed.',
    developer: 'order "{order}" from source "{source}"',
  },
  'stock-not-usable': {
    happened: '{found} can’t be a count of {article}',
    next: 'Type a whole number from 0 to 999; nothing was changed.',
    developer: 'stock.count of "{article}": received {found}',
  },
  'catalogue-missing': {
    happened: 'This procedure has no catalogue of implants',
    next: 'Labels are read, but not compared with sizes. Look at the pack.',
    developer: 'no built-in catalogue names the procedure',
  },
  'catalogue-invalid': {
    happened: 'This catalogue of implants can’t be used',
    next: 'Labels are read, but not compared with sizes. Look at the pack.',
    developer: '{path}: expected {expected}, received {received}',
  },
  'camera-unavailable': {
    happened: 'The camera can’t be used',
    next: 'Scan with the scanner or type the label; the case goes on.',
    developer: 'camera: {detail}',
  },
} as const;
