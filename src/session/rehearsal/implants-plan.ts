/**
 * The plan of a spoken and scanned case: the planning sheet, the marks at the wound, and
 * packs, four of which are wrong. Numbers are Example S's and the angles are made up.
 */
import type { RehearsalPlan } from './plan';

const LABELS = {
  plate: { article: 'baseplate-24-small-right', serial: 'B1' },
  post: { article: 'post-24', serial: 'P1' },
} as const;

/** A right shoulder, −20° and 10° to neutral; each wrong pack is caught before it is opened. */
export const IMPLANTS_REHEARSAL: RehearsalPlan = {
  procedure: 'reverse-shoulder-glenoid',
  side: 'right',
  sheet: {
    measure: 'whole-face',
    nativeVersionDeg: -20,
    nativeInclinationDeg: 10,
    targetVersionDeg: 0,
    targetInclinationDeg: 0,
    wear: 'back and up',
    allowedErrorDeg: 5,
  },
  planned: { wedge: 24, depth: 24, sphere: 40 },
  values: {
    wedge: 24,
    direction: 600,
    seating: 'even',
    depth: 24,
    plate: 'small',
    post: 24,
    sphere: 40,
    'screw-1-kind': 'locking',
    'screw-1-length': 30,
    'screw-2-kind': 'non-locking',
    'screw-2-length': 26,
  },
  rounds: { screw: 2 },
  scenes: [
    { at: 'place-pin', say: 'what is the plan' },
    { at: 'align-reamer', say: 'how far off is fine' },
    { at: 'choose-post', catch: { article: 'post-28', serial: 'P2' }, as: 'pack-does-not-fit' },
    { at: 'choose-post', catch: { article: 'baseplate-24-small-left', serial: 'B2' }, as: 'pack-wrong-side' },
    { at: 'choose-post', catch: { article: 'baseplate-24-small-right', serial: 'B3', years: -1 }, as: 'pack-expired' },
    { at: 'press-post', scan: LABELS.plate },
    { at: 'press-post', scan: LABELS.post },
    { at: 'clear-rim', catch: LABELS.post, as: 'pack-used' },
    { at: 'clear-rim', scan: { article: 'screw-locking-30', serial: 'S1' } },
    { at: 'clear-rim', scan: { article: 'screw-non-locking-26', serial: 'S2' } },
    { at: 'place-sphere', scan: { article: 'glenosphere-40', serial: 'G1' } },
  ],
}; // prettier-ignore
