/**
 * Named times of a case, as hospitals compare them. Names and abbreviations follow
 * the published glossary of procedural times of the Association of Anesthesia
 * Clinical Directors (Donham et al. 1996), read second-hand and from memory.
 */
export const MILESTONES = {
  PIR: 'Patient in room',
  AS: 'Anaesthesia start',
  AR: 'Anaesthesia ready',
  PS: 'Position/prep start',
  PC: 'Prep complete',
  PST: 'Procedure start',
  PCB: 'Conclusion begun',
  PF: 'Procedure finish',
  POR: 'Patient out of room',
} as const;

/** Abbreviation of a named time. */
export type Milestone = keyof typeof MILESTONES;

/** The named times in the order in which a case usually meets them. */
export function listMilestones(): readonly { readonly code: Milestone; readonly name: string }[] {
  return Object.entries(MILESTONES).map(([code, name]) => ({ code: code as Milestone, name }));
}
