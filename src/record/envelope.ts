/**
 * What a stored value must look like to count as an entry: the head that every
 * entry carries, a known type, and data that is an object. It checks the envelope
 * only; what the data of each type means is the reader's business.
 */
import * as v from 'valibot';
import { SOURCES } from '../domain';
import type { FactType } from '../domain';

/** Every type of fact; the compiler complains when domain/entries.ts has one more. */
const FACT_TYPES = {
  'case.opened': true,
  'run.resumed': true,
  'record.mended': true,
  'case.closed': true,
  'step.begun': true,
  'step.finished': true,
  'step.held': true,
  'step.reopened': true,
  'step.skipped': true,
  'step.leftOut': true,
  'step.doneAhead': true,
  'step.passed': true,
  'alternative.chosen': true,
  'track.moved': true,
  'loop.repeated': true,
  'group.finished': true,
  'capture.offered': true,
  'capture.confirmed': true,
  'capture.withdrawn': true,
  'capture.lapsed': true,
  'capture.questioned': true,
  'capture.reopened': true,
  'capture.kept': true,
  'capture.doubted': true,
  'check.answered': true,
  'count.recorded': true,
  'count.added': true,
  'tally.added': true,
  'timer.started': true,
  'timer.stopped': true,
  'timer.due': true,
  'timer.answered': true,
  'role.handedOver': true,
  'order.undone': true,
  'clock.held': true,
  'clock.resumed': true,
  'override.requested': true,
  'override.granted': true,
  'override.withdrawn': true,
  'milestone.reached': true,
  'question.asked': true,
  'announcer.muted': true,
  'announcer.unmuted': true,
  'phrase.heard': true,
  'order.refused': true,
  'angles.planned': true,
  'catalogue.adopted': true,
  'stock.counted': true,
  'label.scanned': true,
  'label.learned': true,
  'pack.moved': true,
  'packs.compared': true,
} as const satisfies Record<FactType, true>;

/** Every type of fact that this program can read. */
export function listFactTypes(): readonly FactType[] {
  return Object.keys(FACT_TYPES) as FactType[];
}

const Name = v.pipe(v.string(), v.minLength(1));
const Milliseconds = v.pipe(v.number(), v.finite(), v.minValue(0));
const DataObject = v.custom<Record<string, unknown>>(
  (data) => typeof data === 'object' && data !== null && !Array.isArray(data),
  'Expected an object',
);

/** How far from 1970 a date can be, in milliseconds (ECMA-262, Time Values and Time Range). */
const LATEST_DATE_MS = 8.64e15;

/** The head and shape of an entry of the current version. Unknown keys are kept. */
const EnvelopeSchema = v.looseObject({
  caseId: Name,
  seq: v.pipe(v.number(), v.integer(), v.minValue(0)),
  at: v.pipe(v.number(), v.minValue(-LATEST_DATE_MS), v.maxValue(LATEST_DATE_MS)),
  mono: Milliseconds,
  run: Name,
  source: v.picklist(SOURCES),
  version: v.pipe(v.number(), v.integer(), v.minValue(1)),
  type: v.picklist(listFactTypes()),
  data: DataObject,
  order: v.optional(Name),
});

/** What is wrong with a value as an entry, in a developer's words; null where nothing is. */
export function findEnvelopeFlaw(value: unknown): string | null {
  const checked = v.safeParse(EnvelopeSchema, value);
  if (checked.success) return null;
  const [issue] = checked.issues;
  return `${v.getDotPath(issue) ?? 'entry'}: expected ${issue.expected ?? 'an entry'}, received ${issue.received}`;
}
