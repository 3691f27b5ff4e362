/** Rehearsals: what is said in the demo case, and the actor that says it. */
export { writeScript } from './actor';
export type { WrittenScript } from './actor';
export { IMPLANTS_REHEARSAL } from './implants-plan';
export { expiryAfter, packOrders } from './packs';
export { REHEARSAL_PLANS } from './plan';
export type { RehearsalPlan } from './plan';
export { runRehearsal } from './run';
export type { RehearsalReport, RehearsalStage } from './run';
export { listRehearsalLines, REVERSE_SHOULDER_REHEARSAL } from './script';
export type { RehearsalLine, Speaker } from './script';
