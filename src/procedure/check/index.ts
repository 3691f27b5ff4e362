/** The checker: form and meaning of a procedure file, and what a walk through it finds. */
export { checkProcedure, readProcedure, readRecordedProcedure } from './check-procedure';
export type { Finding } from './finding';
export { inspectProcedure } from './inspect';
export type { Inspection, InspectOptions } from './inspect';
export { FINDING_KINDS } from './kinds';
export type { FindingKind } from './kinds';
export { USUAL_ADDRESS_PHRASE } from './spoken';
