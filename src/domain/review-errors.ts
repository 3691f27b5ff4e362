/** The part of the error catalogue that is about the look back; errors.ts takes it in. The record itself is never touched there. */
export const REVIEW_ERRORS = {
  'review-file-unreadable': {
    happened: 'This is no file of a review, or it is damaged',
    next: 'Nothing was taken in; what is on this machine is as it was.',
    developer: 'review file: {detail}',
  },
  'review-cache-lost': {
    happened: 'The look back has to be computed anew',
    next: 'It takes a little longer; the record itself was not touched.',
    developer: 'review cache: {detail}',
  },
  'review-kept-unreadable': {
    happened: 'Part of what is kept for the look back could not be read',
    next: 'It was left as it is. Until it can be read no file of another machine is taken in, so that nothing is lost.',
    developer: 'review cache: pieces that are locked, or damaged ones that could not be set aside',
  },
  'review-parts-set-aside': {
    happened: 'A part of what the look back keeps is damaged and was set aside: {what}',
    next: 'Cases of this machine are read again from the record; take in those of other machines again. All other cases are there.',
    developer: 'review cache: {what} under a name of their own, as they lay',
  },
  'review-busy': {
    happened: 'Cases are being added or taken in already',
    next: 'Wait until that is done, or stop it, then try again. Nothing was changed.',
    developer: 'review worker: asked for another work while "{kind}" is in hand',
  },
  'review-hours-not-kept': {
    happened: 'The resource hours could not be kept',
    next: 'They count as long as this screen is open. Type them again later; the record was not touched.',
    developer: 'resource hours: {detail}',
  },
  'review-file-not-kept': {
    happened: 'The cases of this file could not be kept on this machine',
    next: 'None was taken in; what is on this machine is as it was. Make room, then take the file in again.',
    developer: 'review file: {detail}',
  },
  'review-cases-unread': {
    happened: 'Cases that could not be read and are not counted: {count}',
    next: 'They stay in the record as they are. Open them from the list below to see what is wrong.',
    developer: '{count} closed cases without a digest; the first: {detail}',
  },
  'review-failed': {
    happened: 'The look back stopped working',
    next: 'Leave this screen and open it again; the record was not touched.',
    developer: 'review worker: {detail}',
  },
  'review-cases-removed': {
    happened: 'Cases of this file were removed from this machine before and stay out: {count}',
    next: 'The rest was taken in. To look back on them again, take in their record on the record screen.',
    developer: 'review file: {count} digests of cases with a tombstone and no entries',
  },
  'change-marks-not-kept': {
    happened: 'A marked change could not be kept or read',
    next: 'The charts are split as long as this screen is open. Mark it again later; the record was not touched.',
    developer: 'marked changes: {detail}',
  },
  'picture-not-made': {
    happened: 'This picture could not be made',
    next: 'Nothing is lost: the chart and its table are as they were. Try the other kind of picture.',
    developer: 'picture of "{name}": {detail}',
  },
} as const;
